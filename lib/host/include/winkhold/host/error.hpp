/// The one way in which bad input is refused.
#pragma once

#include <stdexcept>
#include <string>

namespace winkhold::host {

/// Bad usage or input. The message is for a person in a garage: where (file:line), what is wrong, what to do.
/// Apps print it after "winkhold: " and exit with 2.
class InputError : public std::runtime_error {
public:
    using std::runtime_error::runtime_error;
};

/// "file:line: what", the form every reader uses. Line 0 is left out.
std::string at_line(const std::string& file, long long line, const std::string& what);

} // namespace winkhold::host
