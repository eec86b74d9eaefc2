// A command line that isn't right: one line says what was meant, and the exit code is 2.
#include "program/run.hpp"

#include <algorithm>

namespace winkhold::testing {
namespace {

struct Slip {
    std::string arguments;
    std::string says; ///< the whole line, after "winkhold: "
};

class Usage : public ::testing::TestWithParam<Slip> {};

TEST_P(Usage, IsRefusedWithOneLine) {
    const Slip& slip = GetParam();
    const Scratch scratch;
    const Ran ran = scratch.run(slip.arguments);
    EXPECT_EQ(ran.exit_code, 2);
    EXPECT_EQ(ran.out, "");
    EXPECT_EQ(ran.err, "winkhold: " + slip.says + "\n");
}

const std::string ride = "data/recordings/left_flash.csv";
const std::string any_seed = "write a whole number from 0 to 18446744073709551615";

const Slip old_names[] = {
    {"rules bike.toml", "'rules' is now 'limits'"},
    {"handover bike.toml", "'handover' is now 'checklist'"},
    {"faults", "'faults' is now 'prove faults'"},
    {"compare --flashes 5", "'compare' is now 'prove compare'"},
    {"worth", "'worth' is now 'prove worth'"},
    {"soak --help", "'soak' is now 'prove soak'"},
    {"limits bike.toml --rules-folder x", "'--rules-folder' is now '--limits-folder'"},
    {"limits bike.toml --rules-folder=x", "'--rules-folder' is now '--limits-folder'"},
};
INSTANTIATE_TEST_SUITE_P(OldName, Usage, ::testing::ValuesIn(old_names));

const Slip slips[] = {
    {"decod ride.csv", "decod: no such command; did you mean 'decode'?"},
    {"limit bike.toml", "limit: no such command; did you mean 'limits'?"},
    {"hanodver bike.toml", "hanodver: no such command; did you mean 'checklist'?"},
    {"prove fault", "prove fault: no such command; did you mean 'prove faults'?"},
    {"prove decode", "prove decode: no such command; see winkhold prove --help"},
    {"ride.csv", "ride.csv: no such command; see winkhold --help"},
    {"--hepl", "--hepl: no such option; did you mean '--help'?"},
    {"decode " + ride + " --holt 40ms", "--holt: no such option; did you mean '--hold'?"},
    {"decode " + ride + " --holt=40ms", "--holt: no such option; did you mean '--hold'?"},
    {"decode " + ride + " -hold 40ms", "-hold: no such option; did you mean '--hold'?"},
    {"decode " + ride + " --xylophone", "--xylophone: no such option; see winkhold decode --help"},
    {"decode " + ride + " --active hihg", "--active \"hihg\": write high or low; did you mean 'high'?"},
    {"decode " + ride + " --active 1", "--active \"1\": write high or low; see winkhold decode --help"},
    {"decode " + ride + " --hold-rule pased",
     "--hold-rule \"pased\": write fixed or paced; did you mean 'paced'?"},
};
INSTANTIATE_TEST_SUITE_P(Misspelt, Usage, ::testing::ValuesIn(slips));

const Slip counts[] = {
    {"", "a subcommand is required; see winkhold --help"},
    {"decode", "RECORDING is required; see winkhold decode --help"},
    {"decode a.csv b.csv", "b.csv: one argument too many; see winkhold decode --help"},
    {"--completion", "--completion: its value is missing; see winkhold --help"},
    {"--completion zhs", "--completion \"zhs\": write bash, zsh or fish; did you mean 'zsh'?"},
    {"decode " + ride + " --hold", "--hold: its value is missing; see winkhold decode --help"},
    {"decode " + ride + " --hold ''", "--hold: its value is empty; see winkhold decode --help"},
    {"decode " + ride + " --hold 1s --hold 2s", "--hold: given 2 times; see winkhold decode --help"},
    {"decode " + ride + " --json=no", "--json: takes no value; see winkhold decode --help"},
    {"decode " + ride + " --json --csv", "--json excludes --csv; see winkhold decode --help"},
    {"fit " + ride + " --cautious", "--cautious: needs --out or --onto"},
    {"prove soak --out ride.csv", "--out requires --ride; see winkhold prove soak --help"},
};
INSTANTIATE_TEST_SUITE_P(Count, Usage, ::testing::ValuesIn(counts));

const Slip numbers[] = {
    {"simulate a.toml --seed -1", "--seed -1: " + any_seed + "; see winkhold simulate --help"},
    {"simulate a.toml --seed 18446744073709551616",
     "--seed 18446744073709551616: " + any_seed + "; see winkhold simulate --help"},
    {"simulate a.toml --seed one", "--seed one: " + any_seed + "; see winkhold simulate --help"},
    {"simulate a.toml --trial 1.5", "--trial 1.5: " + any_seed + "; see winkhold simulate --help"},
    {"sweep a.toml --trials 9e18",
     "--trials 9e18: write a whole number from 1 to 1e9; see winkhold sweep --help"},
    {"sweep a.toml --threads 0",
     "--threads 0: write a whole number from 1 to 1024; see winkhold sweep --help"},
    {"sweep a.toml --target nan", "--target nan: write a number from 0 to 1; see winkhold sweep --help"},
    {"limits a.toml --trials 1001",
     "--trials 1001: write a whole number from 1 to 1000; see winkhold limits --help"},
    {"prove soak --ride -1", "--ride -1: write a whole number from 0 to 9223372036854775807; see winkhold "
                             "prove soak --help"},
    {"prove soak --flashes 1e13",
     "--flashes 1e13: write a whole number from 1 to 1e11; see winkhold prove soak --help"},
    {"prove faults --seeds 0",
     "--seeds 0: write a whole number from 1 to 1e6; see winkhold prove faults --help"},
};
INSTANTIATE_TEST_SUITE_P(Number, Usage, ::testing::ValuesIn(numbers));

TEST(CommandLine, WholeNumbersMayBeWrittenWithAnExponent) {
    const Scratch scratch;
    const std::string sweep = "sweep data/scenarios/nominal.toml --json --trials ";
    EXPECT_EQ(scratch.run(sweep + "2e2").out, scratch.run(sweep + "200").out);
}

TEST(CommandLine, WhatFollowsTwoDashesIsNoOption) {
    const Scratch scratch;
    const Ran ran = scratch.run("decode --json -- " + ride);
    EXPECT_EQ(ran.exit_code, 0) << ran.err;
    EXPECT_EQ(ran.out, scratch.run("decode --json " + ride).out);
}

} // namespace
} // namespace winkhold::testing
