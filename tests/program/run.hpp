/// Runs the winkhold program as a user would.
#pragma once

#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <gtest/gtest.h>
#include <iterator>
#include <string>
#include <sys/wait.h>
#include <unistd.h>

namespace winkhold::testing {

struct Ran {
    int exit_code;
    std::string out;
    std::string err;
};

/// A folder of its own for each test, gone afterwards.
class Scratch {
public:
    Scratch()
        : folder_(std::filesystem::temp_directory_path() /
                  ("winkhold-" + std::to_string(getpid()) + "-" +
                   ::testing::UnitTest::GetInstance()->current_test_info()->name())) {
        std::filesystem::create_directories(folder_);
    }
    ~Scratch() { std::filesystem::remove_all(folder_); }

    std::string path(const std::string& name) const { return (folder_ / name).string(); }
    std::string write(const std::string& name, const std::string& text) const {
        std::ofstream(path(name), std::ios::binary) << text;
        return path(name);
    }
    std::string read(const std::string& name) const {
        std::ifstream file(path(name), std::ios::binary);
        return {std::istreambuf_iterator<char>(file), {}};
    }

    /// `arguments` as typed in a shell, from within the project's folder; `input` is the file on standard
    /// input.
    Ran run(const std::string& arguments, const std::string& input = "/dev/null") const {
        const std::string command = "cd '" WINKHOLD_SOURCE "' && '" WINKHOLD_PROGRAM "' " + arguments +
                                    " >'" + path(".out") + "' 2>'" + path(".err") + "' <'" + input + "'";
        const int status = std::system(command.c_str());
        return {WIFEXITED(status) ? WEXITSTATUS(status) : -1, read(".out"), read(".err")};
    }

private:
    std::filesystem::path folder_;
};

} // namespace winkhold::testing
