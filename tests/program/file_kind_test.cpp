// A vehicle file given as a recording, or the reverse, is told as such.
#include "program/run.hpp"

namespace winkhold::testing {
namespace {

const std::string recording = "time_ms,left,right\n0,0,0\n500,1,0\n900,0,0\n9000,0,0\n";
const std::string vehicle =
    "# A bike.\n\n[flasher]\nrate_per_min = 85\n\n[rider]\nscript = [{ show = \"left\", flashes = 5 }]\n";

void expect_told(const Scratch& scratch, const std::string& arguments, const std::string& says) {
    const Ran ran = scratch.run(arguments);
    EXPECT_EQ(ran.exit_code, 2) << arguments;
    EXPECT_EQ(ran.out, "") << arguments;
    EXPECT_EQ(ran.err, "winkhold: " + says + "\n") << arguments;
}

TEST(FileKind, AVehicleFileIsNoRecording) {
    const Scratch scratch;
    for (const char* name : {"bike.toml", "bike.txt", "bike.csv"}) {
        const std::string file = scratch.write(name, vehicle);
        for (const std::string command : {"decode ", "inspect ", "fit "})
            expect_told(scratch, command + file,
                        file + ": is a vehicle file, not a recording; try: winkhold simulate " + file +
                            " --out ride.csv");
    }
    const std::string file = scratch.path("bike.toml");
    expect_told(scratch, "decode --rate 1MHz " + file,
                file + ": is a vehicle file, not a recording; try: winkhold simulate " + file +
                    " --out ride.csv");
}

TEST(FileKind, ARecordingIsNoVehicleFile) {
    const Scratch scratch;
    const std::string csv = scratch.write("ride.csv", recording);
    const std::string renamed = scratch.write("ride.toml", recording);
    const std::string log = scratch.write("ride.log", "# winkhold recorder 1 tick_us=4\n0 00\n1000 01\n");
    const std::string vcd = scratch.write("ride.vcd", "$timescale 1 us $end\n");
    for (const std::string& file : {csv, renamed, log, vcd})
        for (const std::string& command :
             {std::string("simulate "), std::string("electrics "), std::string("wiring "),
              std::string("checklist "), "decode " + csv + " --settings ", "limits " + csv + " --vehicle "})
            expect_told(scratch, command + file,
                        file + ": is a recording, not a vehicle file; winkhold fit " + file +
                            " --out bike.toml makes one");
}

TEST(FileKind, CommandsThatTakeEitherTellByTheEnding) {
    const Scratch scratch;
    const std::string csv = scratch.write("ride.csv", recording);
    const std::string toml = scratch.write("bike.toml", vehicle);
    for (const std::string command : {"limits ", "sequence "}) {
        EXPECT_LE(scratch.run(command + csv).exit_code, 1) << command;
        EXPECT_LE(scratch.run(command + toml).exit_code, 1) << command;
        const std::string text = scratch.write("bike.txt", vehicle);
        expect_told(scratch, command + text,
                    text + ": is a vehicle file; it is read as one if its name ends in .toml");
    }
}

TEST(FileKind, WhatIsNeitherIsLeftToItsReader) {
    const Scratch scratch;
    EXPECT_NE(scratch.run("electrics absent.csv").err.find("absent.csv: no such file"), std::string::npos);
    EXPECT_NE(scratch.run("decode absent.toml").err.find("absent.toml: no such file"), std::string::npos);
    const std::string file = scratch.write("a.txt", "hello\n");
    EXPECT_EQ(scratch.run("electrics " + file).err.find("recording"), std::string::npos);
    EXPECT_EQ(scratch.run("decode " + file).err.find("vehicle"), std::string::npos);
}

TEST(FileKind, WhatIsReadIsNeverWrittenOver) {
    const Scratch scratch;
    const std::string csv = scratch.write("ride.csv", recording);
    const std::string toml = scratch.write("bike.toml", vehicle);
    for (const std::string& arguments :
         {"fit " + csv + " --out " + csv, "decode " + csv + " --out " + csv,
          "simulate " + toml + " --out " + toml, "simulate " + toml + " --truth " + toml})
        EXPECT_EQ(scratch.run(arguments).exit_code, 2) << arguments;
    EXPECT_EQ(scratch.read("ride.csv"), recording);
    EXPECT_EQ(scratch.read("bike.toml"), vehicle);
}

} // namespace
} // namespace winkhold::testing
