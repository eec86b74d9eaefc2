// A soak may be killed at any moment; a state file that is not its own is refused.
#include "program/run.hpp"
#include "winkhold/measure/waveform/random.hpp"

#include <csignal>
#include <fcntl.h>
#include <thread>

namespace winkhold::testing {
namespace {

const std::string plan = "prove soak --flashes 2e6 --seed 5 --json ";

/// Starts the program and kills it with SIGKILL after a while. True if it was still running then.
bool start_and_kill(const std::string& state, std::chrono::microseconds after) {
    const pid_t child = fork();
    if (child == 0) {
        const int nothing = open("/dev/null", O_WRONLY);
        dup2(nothing, STDOUT_FILENO);
        execl(WINKHOLD_PROGRAM, WINKHOLD_PROGRAM, "prove", "soak", "--flashes", "2e6", "--seed", "5",
              "--json", "--threads", "2", "--state", state.c_str(), nullptr);
        _exit(127);
    }
    std::this_thread::sleep_for(after);
    kill(child, SIGKILL);
    int status = 0;
    waitpid(child, &status, 0);
    return WIFSIGNALED(status) && WTERMSIG(status) == SIGKILL;
}

TEST(Soak, killed_at_random_moments_and_resumed_it_ends_with_the_same_bytes) {
    const Scratch scratch;
    const std::string state = scratch.path("state");
    const Ran straight = scratch.run(plan);
    ASSERT_LE(straight.exit_code, 1) << straight.err;
    host::RandomStream random(1, 0);
    int killed = 0;
    for (int i = 0; i < 6; ++i)
        killed += start_and_kill(state, std::chrono::microseconds(random.whole(1'000, 600'000)));
    EXPECT_GE(killed, 3);
    const Ran resumed = scratch.run(plan + "--state " + state);
    EXPECT_EQ(resumed.out, straight.out);
    EXPECT_EQ(resumed.exit_code, straight.exit_code);
    EXPECT_EQ(scratch.run(plan + "--state " + state).out, straight.out) << "from the state alone";
}

TEST(Soak, torn_anywhere_in_the_last_line_it_ends_with_the_same_bytes) {
    const Scratch scratch;
    const std::string few = "prove soak --flashes 3e5 --seed 5 --state " + scratch.path("state");
    const std::string whole_out = scratch.run(few).out;
    const std::string whole = scratch.read("state");
    const std::size_t last_line = whole.rfind('\n', whole.size() - 2) + 1;
    const std::size_t head = whole.find('\n');
    for (const std::size_t length :
         {std::size_t{0}, std::size_t{1}, head - 1, head, head + 1, last_line - 1, last_line, last_line + 1,
          (last_line + whole.size()) / 2, whole.size() - 1}) {
        scratch.write("state", whole.substr(0, length));
        EXPECT_EQ(scratch.run(few).out, whole_out) << "torn after " << length << " bytes";
    }
}

struct Refused {
    const char* name;
    std::string (*spoil)(std::string state);
    const char* says;
};

class RefusedState : public ::testing::TestWithParam<Refused> {};

TEST_P(RefusedState, with_one_message_and_exit_code_2) {
    const Scratch scratch;
    const std::string run = "prove soak --flashes 2e5 --seed 5 --state " + scratch.path("state");
    ASSERT_LE(scratch.run(run).exit_code, 1);
    const std::string spoilt = GetParam().spoil(scratch.read("state"));
    scratch.write("state", spoilt);
    const Ran ran = scratch.run(run);
    EXPECT_EQ(ran.exit_code, 2);
    EXPECT_EQ(ran.out, "");
    EXPECT_NE(ran.err.find(scratch.path("state") + ":"), std::string::npos) << ran.err;
    EXPECT_NE(ran.err.find(GetParam().says), std::string::npos) << ran.err;
    EXPECT_EQ(std::count(ran.err.begin(), ran.err.end(), '\n'), 1) << ran.err;
    EXPECT_EQ(scratch.read("state"), spoilt) << "and left as it is";
}

INSTANTIATE_TEST_SUITE_P(
    Soak, RefusedState,
    ::testing::Values(Refused{"one_digit_changed",
                              [](std::string state) {
                                  char& digit = state[state.find('\n') + 20];
                                  digit = digit == '7' ? '8' : '7';
                                  return state;
                              },
                              ":2: is damaged; delete that line"},
                      Refused{"a_shard_twice",
                              [](std::string state) {
                                  const std::size_t second = state.find('\n') + 1;
                                  return state + state.substr(second, state.find('\n', second) + 1 - second);
                              },
                              ":4: shard"},
                      Refused{"damaged_head",
                              [](std::string state) {
                                  state[0] = 'W';
                                  return state;
                              },
                              ":1: is no state of a soak; name another file"},
                      Refused{"another_text", [](std::string) { return std::string("time_us,left\n0,1\n"); },
                              ":1: is no state of a soak; name another file"},
                      Refused{"another_text_without_line_feed",
                              [](std::string) { return std::string("hello"); },
                              ":1: is no state of a soak; name another file"}),
    [](const auto& info) { return std::string(info.param.name); });

TEST(Soak, state_of_another_run_is_refused) {
    const Scratch scratch;
    const std::string state = " --state " + scratch.path("state");
    ASSERT_LE(scratch.run("prove soak --flashes 2e5 --seed 5" + state).exit_code, 1);
    const auto refused = [&](const std::string& with, const std::string& says) {
        const Ran ran = scratch.run("prove soak " + with + state);
        EXPECT_EQ(ran.exit_code, 2) << with;
        EXPECT_NE(ran.err.find(says), std::string::npos) << ran.err;
    };
    refused("--flashes 2e5 --seed 6", "was begun with --seed 5, not 6");
    refused("--flashes 3e5 --seed 5", "was begun with --flashes 200000, not 300000");
    refused("--flashes 2e5 --seed 5 --guard 21ms", "was begun with other decoder settings");
}

TEST(Soak, state_that_cannot_be_kept_is_refused) {
    const Scratch scratch;
    const Ran ran = scratch.run("prove soak --flashes 2e5 --state " + scratch.path("no/such/folder/state"));
    EXPECT_EQ(ran.exit_code, 2);
    EXPECT_NE(ran.err.find("can't be opened for writing"), std::string::npos) << ran.err;
    EXPECT_EQ(scratch.run("prove soak --flashes 2e5 --state /dev/null").exit_code, 2);
}

TEST(Soak, bad_numbers_are_refused) {
    const Scratch scratch;
    for (const char* bad :
         {"--flashes 0", "--flashes nan", "--flashes 1e13", "--threads 0", "--ride -1", "--hold 0"})
        EXPECT_EQ(scratch.run(std::string("prove soak ") + bad).exit_code, 2) << bad;
}

} // namespace
} // namespace winkhold::testing
