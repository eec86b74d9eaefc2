/// Where a command's words go.
#pragma once

#include "command.hpp"

#include "winkhold/base/output_file.hpp"
#include "winkhold/base/put_aside.hpp"

#include <initializer_list>
#include <iosfwd>
#include <memory>
#include <string>
#include <string_view>

namespace winkhold::app {

/// `--force`: a file that is there may be replaced.
class Force {
public:
    void add_to(Command& command);
    bool given() const { return force_; }

private:
    bool force_{false};
};

/// Standard output, or a file for any other name than "-". Both are whole or not at all: a file appears at
/// finish(), and what goes to standard output is kept until then, unless `live`. Throws host::InputError as
/// host::OutputFile does.
class Output {
public:
    enum class When { at_finish, live };

    Output(const std::string& path, bool replace);
    /// Standard output.
    explicit Output(When when);
    ~Output();
    std::ostream& stream();
    void finish();

    static void write(const std::string& path, bool replace, std::string_view text);
    /// To standard output.
    static void print(std::string_view text);

private:
    std::unique_ptr<host::OutputFile> file_;
    std::unique_ptr<host::PutAside> held_;
};

/// Standard output for an answer that is made while `input` is read: if that is a pipe, each line goes out as
/// it comes; else all of it, when all is well.
Output output_beside(const std::string& input);

/// Shows on standard error what was changed in a file of the user's.
void tell_edited(const std::string& path, const std::string& difference);

/// Throws host::InputError unless `out` ends in one of `endings`, which say the format.
void check_ending(std::string_view option, const std::string& out,
                  std::initializer_list<std::string_view> endings);

} // namespace winkhold::app
