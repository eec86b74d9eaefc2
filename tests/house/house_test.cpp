#include "house/names.hpp"

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <gtest/gtest.h>
#include <iterator>

namespace winkhold::testing {
namespace {

namespace fs = std::filesystem;

std::string text_of(const fs::path& path) {
    std::ifstream file(path);
    return {std::istreambuf_iterator<char>(file), {}};
}

/// Those that are installed: all but the ones in a folder `detail`.
std::vector<std::string> public_headers() {
    const fs::path root = WINKHOLD_SOURCE "/lib/host";
    std::vector<std::string> headers;
    for (const auto& entry : fs::recursive_directory_iterator(root / "winkhold")) {
        const std::string name = fs::relative(entry.path(), root).string();
        if (entry.path().extension() == ".hpp" && name.find("/detail/") == std::string::npos)
            headers.push_back(name);
    }
    std::sort(headers.begin(), headers.end());
    return headers;
}

TEST(House, AllPublicHeadersInOneFileCompileAndTheirWordsAreRightAtEachOptimisation) {
    const std::vector<std::string> right{"falls short", "not-judged",  "flash-rate", "broken", "differs",
                                         "failed",      "whole-cycle", "hazard",     "paced"};
    EXPECT_EQ(words_unoptimised(), right);
    EXPECT_EQ(words_optimised(), right);
}

TEST(House, TheHeaderToBeginWithNamesEveryPublicHeader) {
    const std::string begin = text_of(WINKHOLD_SOURCE "/lib/host/winkhold/host.hpp");
    const auto headers = public_headers();
    ASSERT_GT(headers.size(), 50u);
    for (const std::string& header : headers)
        if (header != "winkhold/host.hpp") {
            EXPECT_NE(begin.find("#include \"" + header + "\""), std::string::npos) << header;
        }
}

TEST(House, PublicHeadersIncludeNeitherPrivateOnesNorLibrariesThatAreNotTheirUsers) {
    for (const std::string& header : public_headers()) {
        const std::string text = text_of(WINKHOLD_SOURCE "/lib/host/" + header);
        for (const char* hidden : {"/detail/", "<Eigen", "<boost", "<nlohmann", "<toml", "<fmt", "<pugi"})
            EXPECT_EQ(text.find(std::string(hidden)), std::string::npos) << header << ": " << hidden;
    }
}

} // namespace
} // namespace winkhold::testing
