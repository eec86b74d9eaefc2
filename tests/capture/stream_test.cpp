#include "support.hpp"

#include <fcntl.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <thread>

using namespace capture_test;
using winkhold::host::TimeUs;

namespace {

// Standard input from a file, for as long as this lives.
class StandardInput {
public:
    explicit StandardInput(const std::string& path, int mode = O_RDONLY) : before_(::dup(STDIN_FILENO)) {
        const int file = ::open(path.c_str(), mode);
        ::dup2(file, STDIN_FILENO);
        ::close(file);
    }
    ~StandardInput() {
        ::dup2(before_, STDIN_FILENO);
        ::close(before_);
    }
    StandardInput(const StandardInput&) = delete;
    StandardInput& operator=(const StandardInput&) = delete;

private:
    int before_;
};

long peak_memory_kib() {
    rusage usage{};
    ::getrusage(RUSAGE_SELF, &usage);
    return usage.ru_maxrss;
}

struct Piped {
    long long edges;
    TimeUs end_us;
    long memory_kib; // by which the peak rose
};

// Reads, through a pipe, `head` and then `bytes` or more of what `add_row(text, i)` adds.
template <class AddRow>
Piped read_piped(const std::string& head, std::size_t bytes, AddRow add_row) {
    const TempFile pipe;
    std::remove(pipe.path().c_str());
    if (::mkfifo(pipe.path().c_str(), 0600) != 0) throw std::runtime_error("no pipe");
    std::thread writer([&] {
        const int file = ::open(pipe.path().c_str(), O_WRONLY);
        std::string text = head;
        std::size_t written = 0;
        for (int i = 0; written < bytes; ++i) {
            add_row(text, i);
            // Odd sizes, so that blocks end anywhere in a line.
            if (text.size() < 60'001 && written + text.size() < bytes) continue;
            for (std::size_t done = 0; done < text.size();) {
                done += static_cast<std::size_t>(::write(file, text.data() + done, text.size() - done));
            }
            written += text.size();
            text.clear();
        }
        ::close(file);
    });
    Piped result{};
    {
        const auto source = winkhold::host::open_recording(pipe.path(), {});
        const long before_kib = peak_memory_kib();
        Edge edge;
        while (source->next(edge))
            ++result.edges;
        result.end_us = source->end_us();
        result.memory_kib = peak_memory_kib() - before_kib;
    }
    writer.join();
    return result;
}

constexpr std::size_t long_recording = 40'000'000;

} // namespace

TEST(Stream, StandardInputIsCalledDash) {
    const TempFile csv("time_us,left,right\n0,0,0\n5,1,0\n");
    const TempFile bad("time_us,left,right\n0,2,0\n");
    {
        const StandardInput input(csv.path());
        EXPECT_EQ(read_file("-").edges, edges({{0, 0}, {5, 1}}));
    }
    const StandardInput input(bad.path());
    EXPECT_TRUE(refusal_of_file("-").starts_with("standard input:2: \"left\" is \"2\""));
}

TEST(Stream, StandardInputThatCannotBeRead) {
    const TempFile file("time_us,left,right\n0,0,0\n");
    const StandardInput input(file.path(), O_WRONLY);
    EXPECT_EQ(refusal_of_file("-"), "standard input: can't be read: Bad file descriptor");
}

TEST(Stream, TheFormatIsToldByContent) {
    EXPECT_EQ(read("time_us,left,right,$timescale\n0,1,0,\n").edges, edges({{0, 1}}));
    EXPECT_EQ(read("\n  $timescale 1 us $end $var wire 1 l left $end $var wire 1 r right $end "
                   "$enddefinitions $end #0 1l ")
                  .edges,
              edges({{0, 1}}));
}

TEST(Stream, AfterTheEndThereIsNoMore) {
    for (const std::string_view text :
         {"time_us,left,right\n0,0,0\n5,1,0\n",
          "$timescale 1 us $end $var wire 1 l left $end $var wire 1 r right $end "
          "$enddefinitions $end #0 0l #5 1l "}) {
        const TempFile file(text);
        const auto source = winkhold::host::open_recording(file.path(), {});
        Edge edge;
        EXPECT_TRUE(source->next(edge));
        EXPECT_TRUE(source->next(edge));
        EXPECT_FALSE(source->next(edge));
        EXPECT_FALSE(source->next(edge));
        EXPECT_EQ(source->end_us(), 5);
    }
}

TEST(Stream, NoRowIsLostBetweenBlocks) {
    // Rows of every form and of many lengths, far beyond one block.
    std::string text = "time_ms,left,note,right_v\n";
    std::vector<Edge> expected;
    for (int i = 0; i < 60'000; ++i) {
        const unsigned bits = static_cast<unsigned>(i) / 2 % 4;
        const std::string note(static_cast<std::size_t>(i % 53), 'n');
        const std::string_view volts = (bits & 2) != 0 ? "12.25" : "0.125";
        if (i % 7 != 0)
            text += fmt::format("{}.5,{},{},{}\n", i, bits & 1, note, volts);
        else
            text += fmt::format("{0}.5,\"{1}\",\"{2}\n{2}\", {3}\n", i, bits & 1, note, volts);
        if (i % 2 == 0) expected.push_back({i * 1'000 + 500, lines(bits)});
    }
    EXPECT_EQ(read(text).edges, expected);
}

TEST(Stream, NoChangeIsLostBetweenBlocks) {
    std::string text =
        "$timescale 10 us $end $var wire 1 l left $end $var wire 9 v bus $end $enddefinitions $end\n";
    std::vector<Edge> expected;
    for (int i = 0; i < 60'000; ++i) {
        const unsigned bits = static_cast<unsigned>(i) / 2 % 4;
        text += fmt::format("#{}{}\n{}l\n", i, i % 11 == 0 ? " $comment \n a \n$end" : "", bits & 1);
        text += fmt::format("b{:0{}b} v\n", bits >> 1, i % 9 + 1);
        if (i % 2 == 0) expected.push_back({i * 10, lines(bits)});
    }
    EXPECT_EQ(read(text, {.right = "bus[0]"}).edges, expected);
}

TEST(Stream, ALongCsvTakesNoMoreMemory) {
    const Piped seen = read_piped("time_us,left,right\n", long_recording, [](std::string& text, int i) {
        text += fmt::format("{},{},0\n", 7LL * i, i % 2);
    });
    EXPECT_GT(seen.edges, 2'000'000);
    EXPECT_EQ(seen.end_us, 7 * (seen.edges - 1));
    EXPECT_LT(seen.memory_kib, 8 * 1024);
}

TEST(Stream, ALongVcdTakesNoMoreMemory) {
    const std::string head = "$timescale 1 us $end $var wire 1 l left $end $var wire 1 r right $end\n"
                             "$enddefinitions $end\n";
    const Piped seen = read_piped(head, long_recording, [](std::string& text, int i) {
        text += fmt::format("#{}\n{}l\n", 7LL * i, i % 2);
    });
    EXPECT_GT(seen.edges, 2'000'000);
    EXPECT_EQ(seen.end_us, 7 * (seen.edges - 1));
    EXPECT_LT(seen.memory_kib, 8 * 1024);
}
