/// A small case to take apart.
#pragma once

#include "program/run.hpp"

namespace winkhold::testing {

inline const std::string good_case = "[provenance]\norigin = \"synthetic\"\nsource = \"by hand\"\n"
                                     "licence = \"as the project\"\nreason = \"one flash\"\n"
                                     "reasoning = \"500 + 5 ms; last high 853 ms + hold of 1 s\"\n"
                                     "[recording]\nfile = \"recording.csv\"\n";
inline const std::string good_recording = "time_us,left,right\n0,0,0\n500000,1,0\n853000,0,0\n3000000,0,0\n";
inline const std::string good_expected = "time_us,indication\n0,off\n505000,left\n1853000,off\n";

/// Folder `name` of the scratch folder becomes a case that passes.
inline void write_case(const Scratch& scratch, const std::string& name) {
    std::filesystem::create_directories(scratch.path(name));
    scratch.write(name + "/case.toml", good_case);
    scratch.write(name + "/recording.csv", good_recording);
    scratch.write(name + "/expected.csv", good_expected);
}

inline std::string replaced(std::string text, const std::string& from, const std::string& to) {
    const std::size_t at = text.find(from);
    EXPECT_NE(at, std::string::npos) << from;
    return text.replace(at, from.size(), to);
}

} // namespace winkhold::testing
