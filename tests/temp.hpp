/// Files and folders that tests need for a while.
#pragma once

#include <filesystem>
#include <fmt/format.h>
#include <fstream>
#include <gtest/gtest.h>
#include <iterator>
#include <string>
#include <string_view>
#include <unistd.h>

namespace winkhold::testing {

/// A folder of its own, gone with what is in it when this goes.
class TempFolder {
public:
    TempFolder() {
        static int count = 0;
        folder_ = std::filesystem::temp_directory_path() / fmt::format("winkhold-{}-{}", ::getpid(), count++);
        std::filesystem::create_directories(folder_);
    }
    ~TempFolder() { std::filesystem::remove_all(folder_); }
    TempFolder(const TempFolder&) = delete;
    TempFolder& operator=(const TempFolder&) = delete;

    std::string path() const { return folder_.string(); }
    std::string path(const std::string& name) const { return (folder_ / name).string(); }
    std::string write(const std::string& name, std::string_view text) const {
        std::ofstream(path(name), std::ios::binary) << text;
        return path(name);
    }
    std::string read(const std::string& name) const {
        std::ifstream file(path(name), std::ios::binary);
        return {std::istreambuf_iterator<char>(file), {}};
    }

private:
    std::filesystem::path folder_;
};

/// One file that holds `text`.
class TempFile {
public:
    explicit TempFile(std::string_view text = {}) : path_(folder_.write("file", text)) {}

    const std::string& path() const { return path_; }

private:
    TempFolder folder_;
    std::string path_;
};

} // namespace winkhold::testing
