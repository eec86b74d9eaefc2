// The folder that pack writes: whole or not at all, nobody's files replaced, the same bytes again.
#include "pack/bikes.hpp"
#include "program/run.hpp"

#include <filesystem>
#include <gtest/gtest.h>
#include <map>

namespace winkhold::testing {
namespace {

namespace fs = std::filesystem;

std::map<std::string, std::string> files_in(const Scratch& scratch, const std::string& folder) {
    std::map<std::string, std::string> files;
    for (const auto& entry : fs::recursive_directory_iterator(scratch.path(folder)))
        if (entry.is_regular_file())
            files[fs::relative(entry.path(), scratch.path(folder)).string()] =
                scratch.read(fs::relative(entry.path(), scratch.path()).string());
    return files;
}

std::size_t entries(const std::string& folder) {
    return static_cast<std::size_t>(std::distance(fs::directory_iterator(folder), {}));
}

TEST(PackCommand, TheSameVehicleGivesTheSameBytesWhereverItLies) {
    const Scratch scratch;
    fs::create_directories(scratch.path("elsewhere"));
    const std::string here = scratch.write("bike.toml", register_bike);
    const std::string there = scratch.write("elsewhere/bike.toml", register_bike);
    EXPECT_EQ(scratch.run("pack " + here + " " + scratch.path("a")).exit_code, 0);
    EXPECT_EQ(scratch.run("pack " + there + " " + scratch.path("elsewhere/b") + "/").exit_code, 0);
    const auto files = files_in(scratch, "a");
    EXPECT_GT(files.size(), 25u);
    EXPECT_EQ(files, files_in(scratch, "elsewhere/b"));
    EXPECT_EQ(entries(scratch.path("elsewhere")), 2u) << "nothing is left beside it";
}

TEST(PackCommand, TheCoreIsThereAsItStands) {
    const Scratch scratch;
    EXPECT_EQ(scratch.run("pack data/vehicles/demo.toml " + scratch.path("a")).exit_code, 0);
    std::size_t headers = 0;
    for (const auto& entry : fs::directory_iterator(WINKHOLD_SOURCE "/lib/core/winkhold/core")) {
        const std::string name = entry.path().filename().string();
        EXPECT_EQ(std::system(("cmp '" + entry.path().string() + "' '" +
                               scratch.path("a/winkhold/core/" + name) + "'")
                                  .c_str()),
                  0);
        ++headers;
    }
    EXPECT_GT(headers, 10u);
    EXPECT_EQ(entries(scratch.path("a/winkhold/core")), headers);
}

TEST(PackCommand, AnEmptyFolderIsFilled) {
    const Scratch scratch;
    fs::create_directories(scratch.path("a"));
    EXPECT_EQ(scratch.run("pack data/vehicles/demo.toml " + scratch.path("a")).exit_code, 0);
    EXPECT_TRUE(fs::exists(scratch.path("a/bike.hpp")));
}

TEST(PackCommand, NothingOfAnybodysIsReplaced) {
    const Scratch scratch;
    fs::create_directories(scratch.path("full"));
    scratch.write("full/mine.txt", "mine");
    scratch.write("file", "mine");
    fs::create_symlink(scratch.path("full"), scratch.path("link"));
    for (const char* taken : {"full", "full/", "file", "link"}) {
        const Ran ran = scratch.run("pack data/vehicles/demo.toml " + scratch.path(taken));
        EXPECT_EQ(ran.exit_code, 2) << taken;
        EXPECT_NE(ran.err.find("is there already; name a folder that isn't, or an empty one"),
                  std::string::npos)
            << ran.err;
    }
    EXPECT_EQ(scratch.read("full/mine.txt"), "mine");
    EXPECT_EQ(entries(scratch.path("full")), 1u);
    EXPECT_EQ(scratch.read("file"), "mine");
    const Ran ran = scratch.run("pack data/vehicles/demo.toml " + scratch.path("no/such/a"));
    EXPECT_EQ(ran.exit_code, 2);
    EXPECT_NE(ran.err.find("does the folder that it goes to exist?"), std::string::npos) << ran.err;
    EXPECT_FALSE(fs::exists(scratch.path("no")));
}

// As on a disk that is full: the last file doesn't fit.
TEST(PackCommand, WhatCannotBeWrittenWholeIsNotThere) {
    const Scratch scratch;
    fs::create_directories(scratch.path("disk"));
    for (const int blocks :
         {1, 12}) { // of 512 bytes a file: the first one, and the larger ones, are too long
        const std::string command =
            fmt::format("ulimit -f {}; trap '' XFSZ; cd '{}' && '" WINKHOLD_PROGRAM "' pack " WINKHOLD_SOURCE
                        "/data/vehicles/demo.toml disk/a 2> err",
                        blocks, scratch.path());
        EXPECT_NE(std::system(("bash -c \"" + command + "\"").c_str()), 0);
        EXPECT_NE(scratch.read("err").find("is the disk full?"), std::string::npos) << scratch.read("err");
        EXPECT_EQ(entries(scratch.path("disk")), 0u);
    }
}

TEST(PackCommand, TheHashIsThatOfTheFileAndOfEachThatItBuildsOn) {
    const Scratch scratch;
    const std::string base = scratch.write("base.toml", schmitt_bike);
    const std::string top = scratch.write("top.toml", "[vehicle]\nfile = \"base.toml\"\nname = \"Top\"\n");
    const auto header = [&](const std::string& vehicle, const std::string& folder) {
        EXPECT_EQ(scratch.run("pack " + vehicle + " " + scratch.path(folder)).exit_code, 0);
        return scratch.read(folder + "/bike.hpp");
    };
    const std::string of_base = header(base, "a");
    const std::string of_top = header(top, "b");
    EXPECT_NE(of_base.find("base.toml, CRC-32 "), std::string::npos);
    EXPECT_NE(of_top.find("base.toml, CRC-32 "), std::string::npos);
    EXPECT_NE(of_top.find("top.toml, CRC-32 "), std::string::npos);
    const auto hash = [](const std::string& text) {
        return text.substr(text.find("vehicle_hash = "), std::string("vehicle_hash = 0x01234567").size());
    };
    EXPECT_NE(hash(of_base), hash(of_top));
    scratch.write("base.toml", schmitt_bike + "\n");
    EXPECT_NE(hash(header(top, "c")), hash(of_top));
    // CRC-32 of "123456789" is 0xcbf43926 (ISO 3309, as zip and gzip have it; from memory)
    EXPECT_NE(hash(of_base), "vehicle_hash = 0x00000000");
}

TEST(PackCommand, EachValueBringsItsReason) {
    const Scratch scratch;
    const std::string bike = scratch.write("bike.toml", bare_bike);
    EXPECT_EQ(scratch.run("pack " + bike + " " + scratch.path("a")).exit_code, 0);
    const std::string header = scratch.read("a/bike.hpp");
    for (const char* reason : {"//     bike.toml:5, relay of 1987, measured 9 ms /\n    s.settle_us = 12_ms;",
                               "//     bike.toml:7, sweep of ride.csv, 1000 rides\n    s.hold_us = 840_ms;",
                               "//     nobody gave it: the default; winkhold/core/settings.hpp has its "
                               "source\n    s.guard_us = 10_ms;"})
        EXPECT_NE(header.find(reason), std::string::npos) << reason;
}

TEST(PackCommand, WhatASweepChoseSaysWhichSweep) {
    const Scratch scratch;
    const std::string bike = scratch.write("bike.toml", bare_bike.substr(0, bare_bike.find("[decoder]")) +
                                                            bare_bike.substr(bare_bike.find("[sequence]")));
    const Ran swept = scratch.run(
        "sweep data/scenarios/nominal.toml --hold-rule fixed --trials 100 --target 0.1 --onto " + bike);
    EXPECT_EQ(swept.exit_code, 0) << swept.out;
    EXPECT_EQ(scratch.run("pack " + bike + " " + scratch.path("a")).exit_code, 0);
    const std::string header = scratch.read("a/bike.hpp");
    const std::size_t hold = header.find("    // hold: ");
    EXPECT_NE(header.substr(hold, header.find("s.hold_us", hold) - hold)
                  .find("; sweep of nominal.toml, 100 rides, seed 1\n"),
              std::string::npos)
        << header.substr(hold, 300);
}

} // namespace
} // namespace winkhold::testing
