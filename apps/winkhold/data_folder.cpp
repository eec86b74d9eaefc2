#include "data_folder.hpp"

#include <filesystem>

namespace winkhold::app {
namespace {

namespace fs = std::filesystem;

/// WINKHOLD_DATA_FROM_BIN leads from the program's folder to the data, so that all of it may be moved.
fs::path installed(const fs::path& in_data) {
    std::error_code error;
    const fs::path program = fs::read_symlink("/proc/self/exe", error);
    return (program.parent_path() / WINKHOLD_DATA_FROM_BIN / in_data).lexically_normal();
}

std::string found(const std::string& name) {
    std::error_code error;
    const fs::path path = fs::path(name).lexically_normal();
    if (path.empty() || *path.begin() != "data" || fs::exists(fs::symlink_status(path, error))) return name;
    const fs::path there = installed(path.lexically_relative("data"));
    return fs::exists(there, error) ? there.string() : name;
}

/// Puts the name found where the command looks for it.
struct Find {
    void operator()(std::string* name) const { *name = found(*name); }
    void operator()(std::optional<std::string>* name) const {
        if (*name) **name = found(**name);
    }
    void operator()(auto&&) const {}
};

} // namespace

void find_data(const Command& command) {
    for (const auto* declared : {&command.arguments, &command.options})
        for (const Option& option : *declared)
            if (option.reads != Reads::nothing_special && !option.changes) std::visit(Find{}, option.target);
}

} // namespace winkhold::app
