/// Whatever happens to a recording, reading it ends in a trace or in an InputError.
#include "support.hpp"

#include <algorithm>
#include <rapidcheck/gtest.h>

using namespace capture_test;

namespace {

const std::string sound_csv = "time_ms,left,right_v,note\r\n0,0,0.5,\"a \"\"b\"\"\"\n1.5,1,12.25,\n"
                              "2e0,0,4, x \n 7,\"1\",-1,\"two\nlines\"\n8,0,6,end\n";

const std::string sound_vcd =
    "$comment sound $end\n$timescale 10 us $end\n$scope module top $end\n"
    "$var wire 1 ! left $end\n$var reg 4 \"b right [3:0] $end\n$var real 64 r supply $end\n"
    "$upscope $end\n$enddefinitions $end\n#0\n$dumpvars\n0!\nb0 \"b\nr0.5 r\n$end\n"
    "#12\n1!\n#20\nb1010 \"b\nr12.5 r\n#31\nx!\n$dumpoff\nx!\nbx \"b\n$end\n#40\n0!\nb101 \"b\n"
    "#55\n0!\n1!\n#56\n";

const RecordingOptions vcd_options{.right = "right[1]"};

const std::string semicolon_csv = "time_s;left_v;right\n0;0,5;0\n0,0125;12,5;1\n1,5;\"0,25\";0\n";

const std::string preamble_csv =
    "Model,Scope\nSample Interval,1e-3\nVertical Units,V,V\nLabel,CH1,CH2\n\nTIME [s],CH1,CH2\n"
    "-1.000000e+00,0,0.00\n-9.990000e-01,1.2e1,0.04\n-9.970000e-01,0.04,1.2e1\n";

const std::string counted_csv =
    "X,CH1,CH2,Start,Increment,\nSequence,Volt,Volt,-1.000000e+00,1.000000e-03\n0,0.10,0.12,\n"
    "1,12.20,-0.10,\n2,12.21,0.10,\n3,0.10,12.20,\n";

const std::string sampled_csv = "; Samplerate: 1 kHz\nD0,D1\n0,0\n1,0\n1,0\n0,1\n";

const RecordingOptions two_channels{.left = "CH1", .right = "CH2"};

const std::string sound_log = "# winkhold recorder 1 tick_us=0.5\n# bench\n4294967000 00\n4294967290 0A\n"
                              "h 10 0a\no 12\n400 03\nh 2000000 03\n2000400 01\n";

const std::string sound_raw("\0\0\1\1\3\2\2\0\1\1\1", 11);

// RIFF WAVE, 8 bit, two channels at 1000 Hz; see wav_test.cpp.
const std::string sound_wav("RIFF\x34\0\0\0WAVEfmt \x10\0\0\0\1\0\2\0\xE8\3\0\0\xD0\7\0\0\2\0\x8\0"
                            "data\x10\0\0\0\x80\x80\x80\x80\xFF\x80\xFF\xFF\xFF\x80\x80\x80\xFF\x80\xFF\x80",
                            60);

// The trace, or nothing if it was refused. What is read is in order and within range.
std::optional<Trace> read_or_refuse(const std::string& text, const RecordingOptions& options) {
    try {
        const Trace trace = read(text, options);
        const auto is_earlier = [](const Edge& a, const Edge& b) { return a.t_us < b.t_us; };
        EXPECT_TRUE(std::is_sorted(trace.edges.begin(), trace.edges.end(), is_earlier));
        EXPECT_FALSE(trace.edges.empty());
        EXPECT_GE(trace.edges.front().t_us, 0);
        EXPECT_LE(trace.edges.back().t_us, trace.end_us);
        EXPECT_LE(trace.end_us, winkhold::host::latest_us);
        return trace;
    } catch (const winkhold::host::InputError& error) {
        EXPECT_EQ(std::string_view(error.what()).find('\n'), std::string_view::npos) << error.what();
        return std::nullopt;
    }
}

// Cut anywhere, a recording is refused or read as far as it goes: its edges are the first ones of the whole.
void expect_cuts_to_be_safe(const std::string& text, const RecordingOptions& options,
                            std::size_t whole_edges) {
    const Trace whole = read(text, options);
    ASSERT_EQ(whole.edges.size(), whole_edges);
    std::size_t refused = 0;
    for (std::size_t length = 0; length < text.size(); ++length) {
        const auto cut = read_or_refuse(text.substr(0, length), options);
        refused += cut ? 0u : 1u;
        if (!cut) continue;
        ASSERT_LE(cut->edges.size(), whole.edges.size()) << length;
        for (std::size_t i = 0; i + 1 < cut->edges.size(); ++i)
            EXPECT_EQ(cut->edges[i], whole.edges[i]) << length;
        EXPECT_LE(cut->end_us, whole.end_us) << length;
    }
    EXPECT_GT(refused, 0u); // nothing at all is no recording
    EXPECT_LT(refused, text.size());
}

// Flips, drops, doubles or puts in a byte, here and there.
std::string damaged(std::string text) {
    const auto spots = *rc::gen::container<std::vector<std::size_t>>(rc::gen::arbitrary<std::size_t>());
    for (const std::size_t spot : spots) {
        if (text.empty()) break;
        const std::size_t at = spot % text.size();
        switch (*rc::gen::inRange(0, 4)) {
        case 0:
            text[at] = static_cast<char>(*rc::gen::inRange(0, 256));
            break;
        case 1:
            text.erase(at, 1 + spot % 7);
            break;
        case 2:
            text.insert(at, text.substr(at, 1 + spot % 7));
            break;
        default:
            text.insert(at, 1, *rc::gen::elementOf(std::string("#$bxr01 \n\r,\"-.e9;[")));
            break;
        }
    }
    return text;
}

} // namespace

TEST(Damage, ACsvCutAnywhere) {
    expect_cuts_to_be_safe(sound_csv, {}, 5);
}

TEST(Damage, AVcdCutAnywhere) {
    expect_cuts_to_be_safe(sound_vcd, vcd_options, 5);
}

TEST(Damage, ACsvWithDecimalCommasCutAnywhere) {
    expect_cuts_to_be_safe(semicolon_csv, {.decimal_comma = true}, 3);
}

TEST(Damage, ExportsOfInstrumentsCutAnywhere) {
    expect_cuts_to_be_safe(preamble_csv, two_channels, 3);
    expect_cuts_to_be_safe(counted_csv, two_channels, 3);
    expect_cuts_to_be_safe(sampled_csv, {.left = "D0", .right = "D1"}, 3);
}

TEST(Damage, ARecordersLogCutAnywhere) {
    expect_cuts_to_be_safe(sound_log, {}, 4);
}

TEST(Damage, RawSamplesCutAnywhere) {
    expect_cuts_to_be_safe(sound_raw, {.sample_rate_hz = 1'000}, 6);
}

TEST(Damage, AWavCutAnywhere) {
    expect_cuts_to_be_safe(sound_wav, {}, 6);
}

RC_GTEST_PROP(Damage, ARecordersLogIsReadOrRefused, ()) {
    read_or_refuse(damaged(sound_log), {});
}

RC_GTEST_PROP(Damage, AWavIsReadOrRefused, ()) {
    read_or_refuse(damaged(sound_wav), {});
}

RC_GTEST_PROP(Damage, ACsvIsReadOrRefused, ()) {
    read_or_refuse(damaged(sound_csv), {});
}

RC_GTEST_PROP(Damage, ExportsOfInstrumentsAreReadOrRefused, ()) {
    read_or_refuse(damaged(preamble_csv), two_channels);
    read_or_refuse(damaged(counted_csv), two_channels);
    read_or_refuse(damaged(sampled_csv), {.left = "D0", .right = "D1"});
}

RC_GTEST_PROP(Damage, AVcdIsReadOrRefused, ()) {
    read_or_refuse(damaged(sound_vcd), vcd_options);
}

RC_GTEST_PROP(Damage, AnyBytesAreReadOrRefused, ()) {
    const auto bytes = *rc::gen::arbitrary<std::string>();
    read_or_refuse(bytes, {});
    read_or_refuse(fmt::format("${}", bytes), {});
}
