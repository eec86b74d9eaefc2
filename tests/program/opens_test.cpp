// Each command opens each of its files once: they are given as pipes, out of which the text comes once.
#include "program/run.hpp"

#include <fcntl.h>
#include <optional>
#include <sys/stat.h>
#include <thread>

namespace winkhold::testing {
namespace {

/// A named pipe that hands out its text to whoever opens it first. Whoever opens it again waits for good.
class OncePipe {
public:
    OncePipe(const Scratch& scratch, const std::string& name, const std::string& text)
        : path_(scratch.path(name)),
          writer_([this, text] { std::ofstream(path_, std::ios::binary) << text; }) {}
    ~OncePipe() {
        const int reader = ::open(path_.c_str(), O_RDONLY | O_NONBLOCK); // in case nobody came
        writer_.join();
        ::close(reader);
    }
    static void make(const Scratch& scratch, const std::string& name) {
        ASSERT_EQ(mkfifo(scratch.path(name).c_str(), 0600), 0);
    }

private:
    std::string path_;
    std::thread writer_;
};

std::string text_of(const std::string& path) {
    std::ifstream file(WINKHOLD_SOURCE "/" + path, std::ios::binary);
    return {std::istreambuf_iterator<char>(file), {}};
}

Ran run_with_timeout(const Scratch& scratch, const std::string& arguments) {
    const std::string command = "cd '" + scratch.path() + "' && timeout 60 '" WINKHOLD_PROGRAM "' " +
                                arguments + " >.out 2>.err </dev/null";
    const int status = std::system(command.c_str());
    return {WIFEXITED(status) ? WEXITSTATUS(status) : -1, scratch.read(".out"), scratch.read(".err")};
}

class OpensOnce : public ::testing::TestWithParam<const char*> {};

TEST_P(OpensOnce, TheVehicleFileAndTheOneItBuildsOn) {
    const Scratch scratch;
    OncePipe::make(scratch, "base.toml");
    OncePipe::make(scratch, "top.toml");
    const OncePipe base(scratch, "base.toml", text_of("data/vehicles/demo.toml"));
    const OncePipe top(scratch, "top.toml", "[vehicle]\nfile = \"base.toml\"\nname = \"Top\"\n");
    const Ran ran = run_with_timeout(scratch, GetParam());
    EXPECT_LE(ran.exit_code, 1) << ran.err;
    EXPECT_EQ(ran.err, "");
    EXPECT_NE(ran.out, "");
}

INSTANTIATE_TEST_SUITE_P(Commands, OpensOnce,
                         ::testing::Values("electrics top.toml", "wiring top.toml", "checklist top.toml",
                                           "sequence top.toml", "pack top.toml board",
                                           "limits top.toml --trials 2", "sweep top.toml --trials 5",
                                           "simulate top.toml"),
                         [](const auto& named) {
                             const std::string words = named.param;
                             return words.substr(0, words.find(' '));
                         });

TEST(OpensARecordingOnce, AndTheVehicleThatGoesWithIt) {
    const Scratch scratch;
    for (const char* command :
         {"decode ride.csv", "fit ride.csv", "sweep ride.csv", "limits ride.csv --vehicle bike.toml",
          "sequence ride.csv --vehicle bike.toml"}) {
        const bool with_vehicle = std::string_view(command).find("bike") != std::string_view::npos;
        std::filesystem::remove(scratch.path("ride.csv"));
        std::filesystem::remove(scratch.path("bike.toml"));
        OncePipe::make(scratch, "ride.csv");
        if (with_vehicle) OncePipe::make(scratch, "bike.toml");
        const OncePipe ride(scratch, "ride.csv",
                            text_of("data/recordings/simulated-side-change/recording.csv"));
        std::optional<OncePipe> bike;
        if (with_vehicle) bike.emplace(scratch, "bike.toml", text_of("data/vehicles/demo.toml"));
        const Ran ran = run_with_timeout(scratch, command);
        EXPECT_LE(ran.exit_code, 1) << command << ": " << ran.err;
        EXPECT_NE(ran.out, "") << command;
    }
}

} // namespace
} // namespace winkhold::testing
