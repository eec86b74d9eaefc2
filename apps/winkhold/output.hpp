/// Where a command's words go.
#pragma once

#include <initializer_list>
#include <iosfwd>
#include <memory>
#include <string>
#include <string_view>

namespace winkhold::app {

/// A file to write, or standard output for "-". Throws host::InputError if it can't be opened; finish()
/// throws if not everything could be written.
class Output {
public:
    explicit Output(const std::string& path);
    ~Output();
    std::ostream& stream();
    void finish();

    static void write(const std::string& path, std::string_view text);
    static void print(std::string_view text) { write("-", text); }

private:
    std::string path_;
    std::unique_ptr<std::ostream> file_;
};

/// Throws host::InputError unless `out` ends in one of `endings`, which say the format.
void check_ending(std::string_view option, const std::string& out,
                  std::initializer_list<std::string_view> endings);

/// Throws host::InputError if writing `out` would destroy the `input`, which is called `what`.
void check_keeps(std::string_view option, const std::string& out, const std::string& input,
                 std::string_view what);

} // namespace winkhold::app
