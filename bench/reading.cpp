// How fast recordings are read, beside other programs on the same file in the same run: `wc -l`, bytes read
// once, a general CSV parser and a general VCD parser.
#include "reading.hpp"

#include "winkhold/taps/capture/recording.hpp"

#include <algorithm>
#include <cstdio>
#include <cstdlib>
#include <fcntl.h>
#include <filesystem>
#include <fmt/format.h>
#include <fstream>
#include <functional>
#include <numeric>
#include <sys/resource.h>
#include <unistd.h>
#include <vector>

namespace {

using namespace winkhold;

/// A file of about 128 MiB, gone afterwards.
class Recording {
public:
    using Fill = std::function<void(std::string& text, std::int64_t i)>;

    Recording(const char* name, const std::string& head, const Fill& fill)
        : path_((std::filesystem::temp_directory_path() / fmt::format("winkhold-bench-{}", name)).string()) {
        std::ofstream file(path_, std::ios::binary);
        std::string text = head;
        for (std::int64_t i = 0, written = 0; written < size; ++i) {
            fill(text, i);
            if (text.size() < 1 << 16) continue;
            file << text;
            written += static_cast<std::int64_t>(text.size());
            text.clear();
        }
    }
    ~Recording() { std::filesystem::remove(path_); }
    Recording(const Recording&) = delete;
    Recording& operator=(const Recording&) = delete;

    const std::string& path() const { return path_; }

private:
    static constexpr std::int64_t size = 128 << 20;
    std::string path_;
};

/// Of the processor, for this program and those it started: what else runs on the machine doesn't count.
double processor_s() {
    double sum = 0;
    for (const int whose : {RUSAGE_SELF, RUSAGE_CHILDREN}) {
        rusage usage{};
        getrusage(whose, &usage);
        for (const timeval& time : {usage.ru_utime, usage.ru_stime})
            sum += static_cast<double>(time.tv_sec) + 1e-6 * static_cast<double>(time.tv_usec);
    }
    return sum;
}

/// The least of `times` runs: what disturbs a run only adds to it.
double seconds(int times, const std::function<void()>& run) {
    double least = 1e9;
    for (int i = 0; i < times; ++i) {
        const double start_s = processor_s();
        run();
        least = std::min(least, processor_s() - start_s);
    }
    return least;
}

double seconds_of_command(int times, const std::string& command) {
    return seconds(times, [&] {
        if (std::system(command.c_str()) != 0) fmt::print(stderr, "failed: {}\n", command);
    });
}

double seconds_to_read(const std::string& path, const host::RecordingOptions& options = {}) {
    return seconds(9, [&] {
        const auto source = host::open_recording(path, options);
        host::Edge edge;
        std::int64_t edges = 0;
        while (source->next(edge))
            ++edges;
        if (edges < 2) fmt::print(stderr, "{}: nothing read\n", path);
    });
}

/// Every byte read from the file and added up, in blocks that stay in the processor's cache.
double seconds_to_touch(const std::string& path) {
    return seconds(9, [&] {
        const int file = ::open(path.c_str(), O_RDONLY);
        std::vector<std::uint64_t> block(16'384); // 128 KiB
        std::uint64_t sum = 0;
        while (::read(file, block.data(), block.size() * sizeof block[0]) > 0)
            sum = std::accumulate(block.begin(), block.end(), sum);
        ::close(file);
        if (sum == 1) fmt::print("\n"); // so that the sum is needed
    });
}

void print_ratio(const char* what, double ratio) {
    fmt::print("{:<62}{:>8.2f}\n", what, ratio);
}

void read_csv() {
    const Recording levels("levels.csv", "time_us,left,right\n", [](std::string& text, std::int64_t i) {
        fmt::format_to(std::back_inserter(text), "{},{},{}\n", i * 350'000, i % 2, i / 8 % 2);
    });
    const Recording volts("volts.csv", "time_s,left_v,right_v\n", [](std::string& text, std::int64_t i) {
        fmt::format_to(std::back_inserter(text), "{:.4f},{:.3f},{:.3f}\n", 1e-4 * static_cast<double>(i),
                       i / 3'500 % 2 == 0 ? 0.125 : 12.601, 0.031);
    });
    const Recording noise("noise.csv", "time_s,left_v,right_v\n", [](std::string& text, std::int64_t i) {
        const double noise_v = 0.001 * static_cast<double>(i * 7'919 % 101 - 50);
        fmt::format_to(std::back_inserter(text), "{:.4f},{:.3f},{:.3f}\n", 1e-4 * static_cast<double>(i),
                       (i / 3'500 % 2 == 0 ? 0 : 12.6) + noise_v, -noise_v);
    });
    const Recording powers(
        "powers.csv", "Time [s],left (V),right (V)\n", [](std::string& text, std::int64_t i) {
            fmt::format_to(std::back_inserter(text), "{:.6e},{:.2f},0.10\n",
                           1e-4 * static_cast<double>(i) - 1, i / 3'500 % 2 == 0 ? 0.12 : 12.61);
        });
    const double wc = seconds_of_command(9, "wc -l '" + levels.path() + "' >/dev/null");
    print_ratio("CSV of levels, every row an edge: times wc -l", seconds_to_read(levels.path()) / wc);
    print_ratio("the same by Python's csv module (C): times wc -l",
                seconds_of_command(1, fmt::format("/usr/bin/python3 -c \"import csv\nfor row in "
                                                  "csv.reader(open('{}', newline='')): pass\"",
                                                  levels.path())) /
                    wc);
    const double wc_volts = seconds_of_command(9, "wc -l '" + volts.path() + "' >/dev/null");
    print_ratio("CSV of volts at 10 kHz: times wc -l", seconds_to_read(volts.path()) / wc_volts);
    const double wc_noise = seconds_of_command(9, "wc -l '" + noise.path() + "' >/dev/null");
    print_ratio("the same with noise on both sides of zero: times wc -l",
                seconds_to_read(noise.path()) / wc_noise);
    const double wc_powers = seconds_of_command(9, "wc -l '" + powers.path() + "' >/dev/null");
    print_ratio("volts with times in powers of ten, as oscilloscopes export: times wc -l",
                seconds_to_read(powers.path()) / wc_powers);
}

void read_vcd() {
    const Recording wires("wires.vcd",
                          "$timescale 1 us $end\n$var wire 1 l left $end\n$var wire 1 r right $end\n"
                          "$enddefinitions $end\n",
                          [](std::string& text, std::int64_t i) {
                              fmt::format_to(std::back_inserter(text), "#{}\n{}{}\n", i * 350'000, i / 2 % 2,
                                             i % 2 == 0 ? 'l' : 'r');
                          });
    const double wc = seconds_of_command(9, "wc -l '" + wires.path() + "' >/dev/null");
    print_ratio("VCD, every time stamp an edge: times wc -l", seconds_to_read(wires.path()) / wc);
    print_ratio("the same by gtkwave's vcd2fst, which writes, too: times wc -l",
                seconds_of_command(
                    1, fmt::format("vcd2fst '{0}' '{0}.fst' >/dev/null; rm -f '{0}.fst'", wires.path())) /
                    wc);
}

void read_raw() {
    const Recording samples("samples.raw", "", [](std::string& text, std::int64_t i) {
        text.append(350'000, static_cast<char>(i % 4)); // 1 MHz, an edge each 350 ms
    });
    const double touch = seconds_to_touch(samples.path());
    print_ratio("raw samples at 1 MHz: times reading the bytes once",
                seconds_to_read(samples.path(), {.sample_rate_hz = 1'000'000}) / touch);
}

} // namespace

void print_reading_ratios() {
    read_csv();
    read_vcd();
    read_raw();
}
