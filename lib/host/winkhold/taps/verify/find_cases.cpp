#include "winkhold/base/error.hpp"
#include "winkhold/taps/verify/case.hpp"

#include <algorithm>
#include <filesystem>
#include <fmt/format.h>

namespace winkhold::taps {

namespace fs = std::filesystem;

constexpr std::size_t most_folders = 20'000; // somebody named the root of a disk

std::vector<FoundCase> find_cases(const std::string& root) {
    std::error_code error;
    if (!fs::is_directory(root, error))
        throw InputError(at_line(root, 0, "no such folder; name one that holds cases, each a folder"));
    std::vector<FoundCase> found;
    const auto look_into = [&](const fs::path& folder) {
        if (fs::exists(folder / case_file, error)) {
            const bool is_root = folder == fs::path(root);
            const fs::path name =
                is_root ? fs::canonical(folder).filename() : folder.lexically_relative(root);
            found.push_back({name.generic_string(), folder.string()});
        } else if (fs::exists(folder / expected_file, error)) {
            throw InputError(
                at_line(folder.string(), 0,
                        fmt::format("has an {} but no {}; what is it a case of?", expected_file, case_file)));
        }
    };
    look_into(root);
    std::size_t looked_into = 0;
    fs::recursive_directory_iterator at(root, fs::directory_options::skip_permission_denied, error);
    for (; !error && at != fs::recursive_directory_iterator(); at.increment(error)) {
        if (!at->is_directory(error) || at->is_symlink(error)) continue;
        if (++looked_into > most_folders)
            throw InputError(at_line(
                root, 0, fmt::format("holds over {} folders; name the one with the cases", most_folders)));
        look_into(at->path());
    }
    if (found.empty())
        throw InputError(at_line(root, 0, fmt::format("holds no case: no folder in it has a {}", case_file)));
    std::sort(found.begin(), found.end(),
              [](const FoundCase& a, const FoundCase& b) { return a.name < b.name; });
    return found;
}

} // namespace winkhold::taps
