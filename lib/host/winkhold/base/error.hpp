/// The one way in which bad input is refused.
#pragma once

#include "winkhold/base/wings.hpp"

#include <stdexcept>
#include <string>

namespace winkhold::base {

/// Bad usage or input. The message is for a person in a garage: where (file:line), what is wrong, what to do.
/// Apps print it after "winkhold: " and exit with 2. It is one line of at most some 1000 bytes: what a
/// terminal would act on, which it may quote from a file, becomes '?', and a longer one loses its middle.
class InputError : public std::runtime_error {
public:
    /// `message`: what is wrong, where (file:line) and what to do, in one sentence for people.
    explicit InputError(std::string message);
};

/// "file:line: what", the form every reader uses. Line 0 is left out.
std::string at_line(const std::string& file, long long line, const std::string& what);

} // namespace winkhold::base
