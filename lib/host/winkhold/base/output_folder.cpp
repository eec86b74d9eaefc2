#include "winkhold/base/output_folder.hpp"

#include "winkhold/base/detail/written_beside.hpp"
#include "winkhold/base/output_file.hpp"

#include <cerrno>
#include <cstdio>
#include <cstring>
#include <filesystem>
#include <fmt/format.h>
#include <ostream>
#include <sys/stat.h>

namespace winkhold::base {
namespace {

namespace fs = std::filesystem;

[[noreturn]] void refuse(const std::string& path, const std::string& why) {
    throw InputError(at_line(path, 0, why));
}

constexpr const char* is_there = "is there already; name a folder that isn't, or an empty one";

} // namespace

OutputFolder::OutputFolder(const std::string& path) : path_(path) {
    if (path.empty()) throw InputError("name a folder to write to");
    std::error_code error;
    target_ = fs::weakly_canonical(path, error).string();
    while (target_.size() > 1 && target_.ends_with('/'))
        target_.pop_back();
    if (fs::exists(target_, error) && !(fs::is_directory(target_, error) && fs::is_empty(target_, error)))
        refuse(path, is_there);
    if (fs::equivalent(target_, fs::current_path(error), error))
        refuse(path, "is where you are; name a folder in it");
    std::string name = name_beside(target_);
    if (::mkdtemp(name.data()) == nullptr)
        refuse(path, fmt::format("can't be written: {}; does the folder that it goes to exist?",
                                 std::strerror(errno)));
    temporary_ = name;
    ::chmod(temporary_.c_str(), 0777 & ~masked_permissions());
}

OutputFolder::~OutputFolder() {
    std::error_code error;
    if (!temporary_.empty()) fs::remove_all(temporary_, error);
}

void OutputFolder::add(const std::string& name, std::string_view text) {
    const fs::path at = fs::path(temporary_) / name;
    std::error_code error;
    fs::create_directories(at.parent_path(), error);
    OutputFile file(at.string(), OutputFile::Over::nothing);
    file.stream() << text;
    file.finish();
}

void OutputFolder::finish() {
    // in one step, over nothing or over an empty folder
    if (::rename(temporary_.c_str(), target_.c_str()) == 0)
        temporary_.clear();
    else if (errno == ENOTEMPTY || errno == EEXIST || errno == ENOTDIR)
        refuse(path_, is_there);
    else
        refuse(path_, fmt::format("can't be written: {}", std::strerror(errno)));
}

} // namespace winkhold::base
