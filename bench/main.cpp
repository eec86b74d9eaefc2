// Runs the benchmarks and prints the ratios that matter, all from one run.
#include "reading.hpp"

#include <benchmark/benchmark.h>
#include <cstdio>
#include <cstdlib>
#include <fmt/format.h>
#include <map>
#include <string>

namespace {

/// Prints as usual and keeps each benchmark's items per second.
class Keeper : public benchmark::ConsoleReporter {
public:
    void ReportRuns(const std::vector<Run>& runs) override {
        ConsoleReporter::ReportRuns(runs);
        for (const Run& run : runs)
            if (const auto found = run.counters.find("items_per_second"); found != run.counters.end())
                items_per_s[run.run_name.function_name + run.run_name.args] = found->second.value;
    }

    std::map<std::string, double> items_per_s;
};

/// Flashes per second of the vectorised script; 0 if it can't run.
double numpy_flashes_per_s() {
    FILE* const pipe = popen("/usr/bin/python3 " WINKHOLD_NUMPY, "r");
    if (pipe == nullptr) return 0;
    char line[64]{};
    const bool read = std::fgets(line, sizeof line, pipe) != nullptr;
    pclose(pipe);
    return read ? std::atof(line) : 0;
}

} // namespace

int main(int argc, char** argv) {
    benchmark::Initialize(&argc, argv);
    if (benchmark::ReportUnrecognizedArguments(argc, argv)) return 2;
    Keeper keeper;
    benchmark::RunSpecifiedBenchmarks(&keeper);
    const auto& speed = keeper.items_per_s;
    const auto ratio = [&](const char* what, const char* fast, const char* slow) {
        if (speed.contains(fast) && speed.contains(slow))
            fmt::print("{:<62}{:>8.2f}\n", what, speed.at(fast) / speed.at(slow));
    };
    fmt::print("\n");
    if (speed.contains("full_path")) {
        const double numpy = numpy_flashes_per_s();
        fmt::print("{:<62}{:>8.2f}\n", "full path, one core: million flashes/s", speed.at("full_path") / 1e6);
        fmt::print("{:<62}{:>8.2f}\n", "vectorised script, no bounce, no settle: million flashes/s",
                   numpy / 1e6);
        if (numpy > 0)
            fmt::print("{:<62}{:>8.2f}\n", "full path : vectorised script", speed.at("full_path") / numpy);
    }
    ratio("full curve of 41 holds: time of one plain replay", "replay_once", "full_curve");
    ratio("full curve of 41 holds: times faster than 41 replays", "full_curve", "curve_by_replays");
    ratio("replay at edges : polling the same traces at 1 ms", "replay_once", "poll_each_ms");
    ratio("sweep on two threads : on one", "sweep_threads2", "sweep_threads1");
    const auto step = [&](const char* what, const char* decoder, const char* bare) {
        if (!speed.contains(decoder) || !speed.contains(bare)) return;
        fmt::print("{:<62}{:>8.2f}\n", fmt::format("{}: ns", what), 1e9 / speed.at(decoder));
        fmt::print("{:<62}{:>8.2f}\n", fmt::format("{}: times a bare hold of two lines", what),
                   speed.at(bare) / speed.at(decoder));
    };
    step("step with nothing changing", "decoder_idle", "bare_idle");
    step("an edge", "decoder_edges", "bare_edges");
    if (keeper.items_per_s.contains("full_path")) print_reading_ratios(); // a whole run
    return 0;
}
