// What the demo shows is short, and README.md shows it byte for byte.
#include "program/run.hpp"
#include "text/lines.hpp"

#include <filesystem>

namespace winkhold::testing {
namespace {

std::string file(const std::string& name) {
    std::ifstream in(WINKHOLD_SOURCE "/" + name, std::ios::binary);
    return {std::istreambuf_iterator<char>(in), {}};
}

/// Runs what stands behind the build in apps/demo.sh, in a folder of its own.
std::string demo(const Scratch& scratch) {
    const std::string script = file("apps/demo.sh");
    const std::size_t from = script.find("\nsay() ");
    if (from == std::string::npos) throw std::logic_error("apps/demo.sh has no say()");
    std::filesystem::create_directory(scratch.path("build"));
    std::filesystem::create_directory_symlink(WINKHOLD_SOURCE "/data", scratch.path("data"));
    const std::string shown = scratch.write("demo.sh", "set -euo pipefail\ncd \"$(dirname \"$0\")\"\n"
                                                       "winkhold() { '" WINKHOLD_PROGRAM "' \"$@\"; }" +
                                                           script.substr(from));
    const int status = std::system(
        ("bash '" + shown + "' >'" + scratch.path("out") + "' 2>'" + scratch.path("err") + "'").c_str());
    EXPECT_EQ(status, 0) << scratch.read("err");
    EXPECT_EQ(scratch.read("err"), "");
    return scratch.read("out");
}

TEST(Demo, IsShortAndReadmeShowsItsStripsAndItsSentence) {
    const Scratch scratch;
    const std::string out = demo(scratch);
    EXPECT_LT(std::count(out.begin(), out.end(), '\n') + 1, 60)
        << out; // and the line that says that it builds
    EXPECT_EQ(too_wide(out), std::vector<std::string>{});
    const std::string readme = file("README.md");
    const std::size_t from = readme.find("What the taps say\n");
    ASSERT_NE(from, std::string::npos);
    const std::string shown = readme.substr(from, readme.find("```", from) - from);
    EXPECT_NE(out.find(shown), std::string::npos) << "README.md has\n" << shown << "the demo prints\n" << out;
    for (const char* answer :
         {"A plain hold of 100 ms flickers:", "A plain hold of 800 ms overlaps:",
          "Winkhold neither flickers nor overlaps\n", "\nOver all ", "Winkhold: 0 times,"})
        EXPECT_NE(shown.find(answer), std::string::npos) << answer;
}

} // namespace
} // namespace winkhold::testing
