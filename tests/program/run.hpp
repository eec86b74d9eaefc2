/// Runs the winkhold program as a user would.
#pragma once

#include "temp.hpp"

#include <cstdio>
#include <cstdlib>
#include <gtest/gtest.h>
#include <string>
#include <sys/wait.h>

namespace winkhold::testing {

struct Ran {
    int exit_code;
    std::string out;
    std::string err;
};

/// A folder to run the program in, gone afterwards.
class Scratch : public TempFolder {
public:
    /// `arguments` as typed in a shell, from within the project's folder; `input` is the file on standard
    /// input.
    Ran run(const std::string& arguments, const std::string& input = "/dev/null") const {
        const std::string command = "cd '" WINKHOLD_SOURCE "' && '" WINKHOLD_PROGRAM "' " + arguments +
                                    " >'" + path(".out") + "' 2>'" + path(".err") + "' <'" + input + "'";
        const int status = std::system(command.c_str());
        return {WIFEXITED(status) ? WEXITSTATUS(status) : -1, read(".out"), read(".err")};
    }
};

} // namespace winkhold::testing
