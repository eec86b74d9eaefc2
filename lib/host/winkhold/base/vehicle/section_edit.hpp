/// Values put into a vehicle file by a command, everything else in it left as it is: comments, order, blanks.
#pragma once

#include "winkhold/base/error.hpp"

#include <string>
#include <string_view>
#include <vector>

namespace winkhold::base {

/// `[section] key = value`; `value` as TOML writes it. An empty value takes the key out.
struct FieldEdit {
    std::string section;
    std::string key;
    std::string value;
};

/// The edits, and for each section with a new value `source = "..."`, which says where its values come from:
/// "sweep of ride.csv". None to none.
std::vector<FieldEdit> with_source(std::vector<FieldEdit> edits, const std::string& source);

/// A vehicle file's text after an edit, and what the edit did.
struct EditedText {
    std::string text;
    /// What changed, for people: "bike.toml:12: [flasher]", then the lines that go behind '-' and those that
    /// come behind '+'. Empty if nothing did.
    std::string difference;
};

/// The file's text with the edits made: a value that is there is replaced where it stands, a new key goes to
/// the end of its section, a new section to the end of the file. Throws InputError (file:line): not TOML; a
/// section that is written as an inline table or a list, which can't be added to. A section that says
/// `example = true` keeps nothing of the example: that line goes, and every key that isn't edited.
EditedText with_edits(std::string_view text, const std::string& path, const std::vector<FieldEdit>& edits);

/// The same for the file itself, which is written whole or not at all. Returns the difference; a file that
/// would stay as it is isn't touched. Throws InputError as above, and if it can't be read or written.
std::string edit_file(const std::string& path, const std::vector<FieldEdit>& edits);

} // namespace winkhold::base
