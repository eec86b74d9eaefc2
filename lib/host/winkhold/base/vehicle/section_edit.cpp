#include "winkhold/base/vehicle/section_edit.hpp"

#include "winkhold/base/detail/legible.hpp"
#include "winkhold/base/output_file.hpp"
#include "winkhold/base/vehicle/detail/toml_text.hpp"

#include <algorithm>
#include <fmt/format.h>
#include <ostream>

namespace winkhold::base {
namespace {

/// The text as lines, each with its newline.
std::vector<std::string> lines_of(std::string_view text) {
    std::vector<std::string> lines;
    while (!text.empty()) {
        const std::size_t end = std::min(text.find('\n'), text.size() - 1) + 1;
        lines.emplace_back(text.substr(0, end));
        text.remove_prefix(end);
    }
    return lines;
}

/// Byte of a column, which counts characters from 1.
std::size_t byte_of(std::string_view line, std::size_t column) {
    std::size_t byte = 0;
    for (std::size_t passed = 1; byte < line.size() && passed < column; ++passed)
        do
            ++byte;
        while (byte < line.size() && (line[byte] & 0xc0) == 0x80);
    return byte;
}

/// Lines [first, first + count) become `now`.
struct Hunk {
    std::size_t first;
    std::size_t count;
    std::vector<std::string> now;
    std::string section;
};

class Editor {
public:
    Editor(std::string_view text, std::string path)
        : path_(std::move(path)), root_(parse_toml_text(text, path_)), lines_(lines_of(text)),
          newline_(text.find("\r\n") == text.npos ? "\n" : "\r\n") {}

    void edit(const FieldEdit& edit) {
        const toml::node* section = root_.get(edit.section);
        if (section != nullptr && !section->is_table())
            refuse(*section, edit.section, "is a list; write it as a section");
        const toml::node* value = section == nullptr ? nullptr : section->as_table()->get(edit.key);
        if (value != nullptr)
            replace(edit, value->source());
        else if (!edit.value.empty())
            add(edit, section);
    }

    void drop_examples(const std::vector<FieldEdit>& edits) {
        const auto edited = [&](std::string_view section, std::string_view key) {
            return std::any_of(edits.begin(), edits.end(), [=](const FieldEdit& edit) {
                return edit.section == section && (key.empty() || edit.key == key);
            });
        };
        for (const auto& [name, section] : root_) {
            const toml::table* table = section.as_table();
            if (table == nullptr || !edited(name.str(), {}) || !(*table)["example"].value_or(false)) continue;
            for (const auto& [key, value] : *table)
                if (!edited(name.str(), key.str()))
                    replace({std::string(name.str()), std::string(key.str()), ""}, value.source());
        }
    }

    EditedText done() const {
        std::vector<Hunk> hunks = hunks_;
        std::stable_sort(hunks.begin(), hunks.end(),
                         [](const Hunk& a, const Hunk& b) { return a.first < b.first; });
        EditedText edited;
        std::size_t at = 0;
        for (const Hunk& hunk : hunks) {
            edited.text += text_of(at, std::max(at, hunk.first));
            at = std::max(at, hunk.first + hunk.count);
            for (const std::string& line : hunk.now)
                edited.text += line;
            tell(hunk, edited.difference);
        }
        edited.text += text_of(at, lines_.size());
        return edited;
    }

private:
    [[noreturn]] void refuse(const toml::node& at, const std::string& section, const char* why) const {
        throw InputError(at_line(path_, at.source().begin.line, fmt::format("[{}] {}", section, why)));
    }

    std::string text_of(std::size_t from, std::size_t to) const {
        std::string text;
        for (std::size_t i = from; i < to; ++i)
            text += lines_[i];
        return text;
    }

    void replace(const FieldEdit& edit, const toml::source_region& old) {
        const std::size_t first = old.begin.line - 1;
        const std::size_t last = std::max<std::size_t>(old.end.line, old.begin.line) - 1;
        const std::string head = lines_[first].substr(0, byte_of(lines_[first], old.begin.column));
        const std::string tail = lines_[last].substr(byte_of(lines_[last], old.end.column));
        if (edit.value.empty()) {
            hunks_.push_back({first, last - first + 1, {}, edit.section});
            return;
        }
        const std::string now = head + edit.value + tail;
        if (last == first && now == lines_[first]) return;
        hunks_.push_back({first, last - first + 1, {now}, edit.section});
    }

    void add(const FieldEdit& edit, const toml::node* section) {
        const std::string line = fmt::format("{} = {}{}", edit.key, edit.value, newline_);
        if (section == nullptr) {
            const auto begun = std::find_if(hunks_.begin(), hunks_.end(), [&](const Hunk& hunk) {
                return hunk.first == lines_.size() && hunk.section == edit.section;
            });
            if (begun != hunks_.end()) {
                begun->now.push_back(line);
                return;
            }
            const bool ends = lines_.empty() || lines_.back().ends_with('\n');
            hunks_.push_back({lines_.size(),
                              0,
                              {std::string(ends ? "" : newline_) + newline_ +
                                   fmt::format("[{}]{}", edit.section, newline_),
                               line},
                              edit.section});
            return;
        }
        const std::size_t header = section->source().begin.line - 1;
        if (section->as_table()->is_inline() || lines_[header].find('[') == std::string::npos)
            refuse(*section, edit.section,
                   "can't be added to as it is written; make it a section of its own");
        std::size_t last = header;
        for (const auto& [key, value] : *section->as_table())
            if (!value.is_table() || value.as_table()->is_inline())
                last = std::max<std::size_t>(last, value.source().end.line - 1);
        hunks_.push_back({last + 1, 0, {line}, edit.section});
    }

    /// Behind '-' what goes, behind '+' what comes.
    void tell(const Hunk& hunk, std::string& out) const {
        out += fmt::format("{}\n", at_line(path_, static_cast<long long>(hunk.first + 1),
                                           fmt::format("[{}]", hunk.section)));
        const auto say = [&](char sign, std::string line) {
            line.erase(line.find_last_not_of("\r\n") + 1);
            line.erase(0, std::min(line.find_first_not_of("\r\n"), line.size()));
            out += fmt::format("  {} {}\n", sign, line);
        };
        for (std::size_t i = 0; i < hunk.count; ++i)
            say('-', lines_[hunk.first + i]);
        for (const std::string& line : hunk.now)
            say('+', line);
    }

    std::string path_;
    toml::table root_;
    std::vector<std::string> lines_;
    std::string newline_;
    std::vector<Hunk> hunks_;
};

} // namespace

std::vector<FieldEdit> with_source(std::vector<FieldEdit> edits, const std::string& source) {
    std::string quoted = "\"";
    for (const char c : legible(source)) {
        if (c == '"' || c == '\\') quoted += '\\';
        quoted += c;
    }
    quoted += '"';
    std::vector<std::string> sections;
    for (const FieldEdit& edit : edits)
        if (!edit.value.empty() &&
            std::find(sections.begin(), sections.end(), edit.section) == sections.end())
            sections.push_back(edit.section);
    for (std::string& section : sections)
        edits.push_back({std::move(section), "source", quoted});
    return edits;
}

EditedText with_edits(std::string_view text, const std::string& path, const std::vector<FieldEdit>& edits) {
    Editor editor(text, path);
    for (const FieldEdit& edit : edits)
        editor.edit(edit);
    editor.drop_examples(edits);
    EditedText edited = editor.done();
    parse_toml_text(edited.text, path); // a slip here must never reach the file
    return edited;
}

std::string edit_file(const std::string& path, const std::vector<FieldEdit>& edits) {
    const EditedText edited = with_edits(read_toml_text(path), path, edits);
    if (edited.difference.empty()) return {};
    OutputFile file(path, OutputFile::Over::itself);
    file.stream() << edited.text;
    file.finish();
    return edited.difference;
}

} // namespace winkhold::base
