/// Bad input on its way out: the part that finds it says what is wrong, the reader adds where.
#pragma once

#include "winkhold/base/error.hpp"

#include <string>
#include <string_view>
#include <vector>

namespace winkhold::taps::capture {

/// What is wrong and what to do. Never leaves this folder: located() turns it into an InputError.
struct Complaint {
    std::string what;
};

/// Runs `read`; a Complaint from it becomes an InputError at `file`:`line`, the line as it is by then.
template <class Read>
auto located(const std::string& file, const long long& line, Read read) {
    try {
        return read();
    } catch (const Complaint& complaint) {
        throw InputError(at_line(file, line, complaint.what));
    }
}

/// Bytes from a file, in quotes, short and safe to print.
std::string shown(std::string_view text);

/// Names from a file, separated by commas, cut short if there are many.
std::string listed(const std::vector<std::string>& names);

} // namespace winkhold::taps::capture
