/// Sound recordings. The files are put together here byte by byte, as "Multimedia Programming Interface and
/// Data Specifications 1.0" (IBM and Microsoft, 1991; from memory) describes RIFF WAVE, or written by
/// Python's wave module; neither shares code with the reader.
#include "support.hpp"

#include <bit>
#include <cmath>

using namespace capture_test;
using winkhold::host::TimeUs;

namespace {

struct Format {
    unsigned tag; // 1: integers, 3: floating point
    unsigned bits;
};
constexpr Format formats[] = {{1, 8}, {1, 16}, {1, 24}, {3, 32}};

std::string little_endian(std::uint64_t number, unsigned bytes) {
    std::string text;
    for (unsigned i = 0; i < bytes; ++i)
        text += static_cast<char>(number >> 8 * i & 0xFF);
    return text;
}

// Full scale -1 to 1. Samples of 8 bits are unsigned, wider ones signed.
std::string sample(Format format, double value) {
    if (format.tag == 3) return little_endian(std::bit_cast<std::uint32_t>(static_cast<float>(value)), 4);
    const auto scaled = static_cast<std::int64_t>(std::lround(value * std::pow(2.0, format.bits - 1)));
    return little_endian(static_cast<std::uint64_t>(scaled + (format.bits == 8 ? 128 : 0)), format.bits / 8);
}

std::string wav(unsigned channels, unsigned rate_hz, Format format, const std::vector<double>& samples) {
    const unsigned frame = channels * format.bits / 8;
    std::string data;
    for (const double value : samples)
        data += sample(format, value);
    std::string body = "WAVEfmt " + little_endian(16, 4) + little_endian(format.tag, 2);
    body += little_endian(channels, 2) + little_endian(rate_hz, 4) + little_endian(rate_hz * frame, 4);
    body += little_endian(frame, 2) + little_endian(format.bits, 2);
    body += "data" + little_endian(data.size(), 4) + data;
    return "RIFF" + little_endian(body.size(), 4) + body;
}

// Frames of two channels, each so many times.
std::vector<double> stereo(std::initializer_list<std::tuple<int, double, double>> stretches) {
    std::vector<double> samples;
    for (const auto& [count, left, right] : stretches)
        for (int i = 0; i < count; ++i)
            samples.insert(samples.end(), {left, right});
    return samples;
}

// One channel, the other side not recorded.
std::vector<Edge> mono(const std::vector<double>& samples, double change = 0.25, Format format = {1, 16}) {
    return read(wav(1, 1'000, format, samples), {.left = "1", .right = "none", .sound_change = change}).edges;
}

} // namespace

TEST(Wav, ChangesOfEveryFormatAreEdges) {
    for (const Format format : formats) {
        const auto samples =
            stereo({{100, 0, 0}, {200, 0.5, 0}, {50, 0, 0}, {300, 0, 0.75}, {10, 0.5, 0.25}, {1, 0.5, 0.25}});
        const Trace trace = read(wav(2, 1'000, format, samples));
        EXPECT_EQ(trace.edges, edges({{0, 0}, {100'000, 1}, {300'000, 0}, {350'000, 2}, {650'000, 1}}))
            << format.bits << " bits";
        EXPECT_EQ(trace.end_us, 660'000);
    }
}

TEST(Wav, WhatPythonsWaveModuleWritesIsRead) {
    const std::string file = written_by_python(
        "import io, struct, sys, wave\nfile = io.BytesIO()\nout = wave.open(file, 'wb')\n"
        "out.setnchannels(2)\nout.setsampwidth(2)\nout.setframerate(44100)\n"
        "for i in range(88200): out.writeframesraw(struct.pack('<hh', 20000 * (i // 22050 % 2), -9000))\n"
        "out.close()\nsys.stdout.buffer.write(file.getvalue())\n");
    EXPECT_EQ(read(file).edges, edges({{0, 0}, {500'000, 1}, {1'000'000, 0}, {1'500'000, 1}}));
}

TEST(Wav, OnlyMoreThanTheChangeCounts) {
    // a quarter of full scale is 8192 of 32768
    EXPECT_EQ(mono({0, 0, 8192 / 32768.0, 8192 / 32768.0}).size(), 1u);
    EXPECT_EQ(mono({0, 0, 8193 / 32768.0, 8193 / 32768.0}), edges({{0, 0}, {2'000, 1}}));
    EXPECT_EQ(mono({0, 0, 328 / 32768.0}, 0.01), edges({{0, 0}, {2'000, 1}}));
    EXPECT_EQ(mono({0, 0, 327 / 32768.0}, 0.01).size(), 1u);
}

TEST(Wav, AChangeMayTakeAsLongAsTheWindow) {
    // 5 ms: five steps of 1 ms
    const double step = 0.0502;
    EXPECT_EQ(mono({0, step, 2 * step, 3 * step, 4 * step, 5 * step, 5 * step}), edges({{0, 0}, {5'000, 1}}));
    EXPECT_EQ(mono({0, step, 2 * step, 3 * step, 4 * step, 4 * step, 5 * step, 5 * step}).size(), 1u);
}

TEST(Wav, ShortPulsesKeepTheirLength) {
    EXPECT_EQ(mono({0, 0, 0.5, 0, 0, 0.5, 0.5, 0}),
              edges({{0, 0}, {2'000, 1}, {3'000, 0}, {5'000, 1}, {7'000, 0}}));
}

// A square wave through a high-pass, as a sound input has one: behind each step the rest decays with
// e^(-t/tau) (textbook). No level tells lit from dark any more, the steps do.
TEST(Wav, ASquareWaveIsReadThroughAHighPass) {
    for (const double tau_ms : {20.0, 40.0, 160.0}) {
        std::vector<double> samples;
        std::vector<Edge> expected = edges({{0, 0}});
        double rest = 0;
        for (int ms = 0; ms < 6'000; ++ms) {
            rest *= std::exp(-1 / tau_ms);
            if (ms >= 500 && (ms - 500) % 350 == 0) {
                const bool lit = (ms - 500) / 350 % 2 == 0;
                rest += lit ? 0.6 : -0.6;
                expected.push_back({ms * 1'000, lines(lit ? 1 : 0)});
            }
            samples.push_back(rest);
        }
        EXPECT_EQ(mono(samples), expected) << "time constant " << tau_ms << " ms";
    }
}

TEST(Wav, ALowLevelMayMeanLit) {
    const std::string file = wav(2, 1'000, {1, 16}, stereo({{10, 0.5, 0.5}, {10, 0, 0.5}, {10, 0.5, 0.5}}));
    EXPECT_EQ(read(file, {.active_high = false}).edges, edges({{0, 0}, {10'000, 1}, {20'000, 0}}));
}

TEST(Wav, ChannelsGoByNumberOrSide) {
    const std::string file = wav(2, 1'000, {1, 16}, stereo({{10, 0, 0}, {10, 0.5, 0}, {10, 0.5, 0.5}}));
    const auto swapped = edges({{0, 0}, {10'000, 2}, {20'000, 3}});
    EXPECT_EQ(read(file, {.left = "2", .right = "1"}).edges, swapped);
    EXPECT_EQ(read(file, {.left = "right", .right = "left"}).edges, swapped);
    EXPECT_EQ(read(file, {.left = "none", .right = "1"}).edges, edges({{0, 0}, {10'000, 2}}));
}

TEST(Wav, TheCautionAndTheLargestChangeAreTold) {
    const auto caveats = caveats_of(wav(2, 1'000, {1, 16}, stereo({{10, 0, 0}, {10, 0.125, 0}})));
    ASSERT_EQ(caveats.size(), 1u);
    EXPECT_EQ(caveats[0].name, "sound");
    EXPECT_FALSE(caveats[0].is_incomplete);
    EXPECT_NE(caveats[0].text.find("passes changes, not levels"), std::string::npos);
    EXPECT_NE(caveats[0].text.find("largest change is 12.5 %: record louder"), std::string::npos)
        << caveats[0].text;
}

TEST(Wav, AFileThatEndsTooSoonIsAFinding) {
    std::string file = wav(2, 1'000, {1, 16}, stereo({{10, 0, 0}, {10, 0.5, 0}}));
    file.resize(file.size() - 4);
    const auto caveats = caveats_of(file);
    ASSERT_EQ(caveats.size(), 2u);
    EXPECT_EQ(caveats[1].name, "cut-off");
    EXPECT_EQ(caveats[1].first_us, 18'000);
    EXPECT_TRUE(caveats[1].is_incomplete);
}

TEST(Wav, WhatIsRefused) {
    const auto silence = stereo({{10, 0, 0}});
    const std::string good = wav(2, 1'000, {1, 16}, silence);
    expect_refusal(good, 0, {"no channel \"3\"", "are: 1, 2"}, {.left = "3"});
    expect_refusal(good, 0, {"no channel \"0\""}, {.left = "0"});
    expect_refusal(good, 0, {"both read from one channel"}, {.left = "2"});
    expect_refusal(good, 0, {"above 0 and below 200 %"}, {.sound_change = 0});
    expect_refusal(wav(1, 1'000, {1, 16}, silence), 0, {"no channel \"left\"", "--left NAME"});
    expect_refusal(wav(2, 1'000, {1, 16}, {}), 0, {"no samples"});
    expect_refusal(wav(2, 1'000, {6, 8}, silence), 0, {"compressed", "PCM"}); // A-law
    expect_refusal(wav(2, 11'000'000, {1, 16}, silence), 0, {"out of range"});
    expect_refusal(good.substr(0, 20), 0, {"can't be read as a WAV file"});
    expect_refusal(wav(2, 1'000, {3, 32}, {0, 0, NAN, 0}), 0, {"sample 1 of channel 1", "no finite number"});
    expect_refusal(wav(2, 1'000, {3, 32}, {0, 0, 0, INFINITY}), 0, {"sample 1 of channel 2"});
}
