// Lines between board and computer: what is written is read again, what is damaged never is.
#include "winkhold/base/detail/crc.hpp"
#include "winkhold/link/words.hpp"

#include <gtest/gtest.h>
#include <random>
#include <string>
#include <vector>

namespace {

using namespace winkhold;
using link::Fields;
using link::LineReader;
using link::LineWriter;

std::string text_of(const LineWriter& line) {
    return {line.text(), line.size()};
}

std::uint32_t crc_of(std::string_view bytes) {
    link::Crc32 crc;
    for (const char c : bytes)
        crc.add(static_cast<std::uint8_t>(c));
    return crc.value();
}

// Check values: of "123456789" in the catalogue of parametrised CRC algorithms (CRC-32/ISO-HDLC, from
// memory); of "The quick brown fox ..." as widely published (from memory).
TEST(LinkCrc, IsThatOfZipAndEthernet) {
    EXPECT_EQ(crc_of("123456789"), 0xcbf43926u);
    EXPECT_EQ(crc_of("The quick brown fox jumps over the lazy dog"), 0x414fa339u);
    EXPECT_EQ(crc_of(""), 0u);
}

TEST(LinkCrc, EqualsTheGeneralLibrarysOnRandomBytes) {
    std::mt19937 random(3);
    for (int i = 0; i < 2'000; ++i) {
        std::string bytes(random() % 100, '\0');
        for (char& c : bytes)
            c = static_cast<char>(random());
        EXPECT_EQ(crc_of(bytes), host::crc32(bytes));
    }
}

std::string edge_line(std::uint16_t number, std::uint32_t time_us, std::uint8_t taps) {
    LineWriter line;
    line.begin(number, link::up::edge);
    line.number(time_us);
    line.hex(taps, 2);
    line.finish();
    return text_of(line);
}

/// Lines read, as text, and how many times something was damaged.
struct Heard {
    std::vector<std::string> lines;
    int damaged{0};
};

Heard hear(std::string_view bytes) {
    Heard heard;
    LineReader reader;
    for (const char c : bytes) {
        const LineReader::Got got = reader.add(c);
        if (got == LineReader::Got::damaged) ++heard.damaged;
        if (got != LineReader::Got::line) continue;
        Fields fields = reader.fields();
        const std::uint32_t time_us = fields.number();
        const auto taps = static_cast<std::uint8_t>(fields.hex(2));
        EXPECT_TRUE(fields.complete());
        heard.lines.push_back(edge_line(reader.number(), time_us, taps));
        EXPECT_EQ(reader.kind(), link::up::edge);
    }
    return heard;
}

TEST(LinkLine, IsReadableAndReadAgain) {
    const std::string line = edge_line(0x0a3f, 1'234'567, 3);
    EXPECT_EQ(line.substr(0, 19), ":0a3f e 1234567 03 ");
    EXPECT_EQ(line.substr(19), fmt::format("{:08x}\n", host::crc32("0a3f e 1234567 03")));
    EXPECT_EQ(hear(line).lines, std::vector<std::string>{line});
    for (const std::uint32_t time_us : {0u, 9u, 10u, 999'999'999u, 4'294'967'295u}) {
        const std::string other = edge_line(0xffff, time_us, 0x1f);
        EXPECT_NE(other.find(fmt::format(" {} 1f ", time_us)), std::string::npos) << other;
        EXPECT_EQ(hear(other).lines, std::vector<std::string>{other});
    }
}

TEST(LinkLine, IsJoinedAtAnyByte) {
    const std::string both = edge_line(1, 1'000, 1) + edge_line(2, 2'000, 2);
    for (std::size_t from = 0; from < both.size(); ++from) {
        const Heard heard = hear(both.substr(from));
        ASSERT_EQ(heard.lines.size(), from == 0 ? 2u : from <= both.size() / 2 ? 1u : 0u) << from;
        EXPECT_EQ(heard.damaged, 0);
    }
}

TEST(LinkLine, ThatIsCutIsDamagedAndTheNextIsHeard) {
    const std::string first = edge_line(1, 1'000, 1);
    const std::string second = edge_line(2, 2'000, 2);
    for (std::size_t length = 1; length < first.size(); ++length) {
        const Heard heard = hear(first.substr(0, length) + second);
        EXPECT_EQ(heard.lines, std::vector<std::string>{second});
        EXPECT_EQ(heard.damaged, 1);
    }
}

TEST(LinkLine, ThatIsTooLongEndsWithoutHarm) {
    LineWriter line;
    line.begin(7, 'z');
    for (int i = 0; i < 100; ++i)
        line.number(123'456'789);
    line.finish();
    EXPECT_EQ(line.size(), link::longest_line);
    LineReader reader;
    int lines = 0;
    for (const char c : text_of(line))
        lines += reader.add(c) == LineReader::Got::line;
    EXPECT_EQ(lines, 1) << "the checksum is of what was sent";
    const Heard heard = hear(fmt::format(":{:a>5000}\n{}", "", edge_line(1, 2, 3)));
    EXPECT_EQ(heard.lines.size(), 1u);
    EXPECT_EQ(heard.damaged, 1);
}

TEST(LinkFields, AreNumbersAsWrittenAndNothingElse) {
    const auto number = [](std::string_view text, std::uint32_t most = 0xffffffff) {
        Fields fields(text.data(), text.data() + text.size());
        const std::uint32_t value = fields.number(most);
        return fields.complete() ? std::optional(value) : std::nullopt;
    };
    EXPECT_EQ(number(" 4294967295"), 4'294'967'295u);
    EXPECT_EQ(number(" 0"), 0u);
    for (const char* text :
         {"", " ", "1", " 01", " 4294967296", " 42949672950", " 1 ", " -1", " 1x", "  1", " +1"})
        EXPECT_EQ(number(text), std::nullopt) << text;
    EXPECT_EQ(number(" 20", 20), 20u);
    EXPECT_EQ(number(" 21", 20), std::nullopt);
    const auto hex = [](std::string_view text) {
        Fields fields(text.data(), text.data() + text.size());
        const std::uint32_t value = fields.hex(2);
        return fields.complete() ? std::optional(value) : std::nullopt;
    };
    EXPECT_EQ(hex(" 1f"), 0x1fu);
    for (const char* text : {" 1F", " 1", " 1g", " 123", "1f", " 0x"})
        EXPECT_EQ(hex(text), std::nullopt) << text;
}

// A longer run is `bash tests/long.sh link`.
TEST(LinkLine, DamagedAsOnAWireIsNeverReadAsAnother) {
    std::mt19937 random(11);
    int unharmed = 0;
    for (int i = 0; i < 200'000; ++i) {
        const std::string sent = edge_line(static_cast<std::uint16_t>(random()), random(), random() % 32);
        std::string got = sent;
        const auto at = [&] { return random() % got.size(); };
        switch (random() % 4) {
        case 0: // bits flipped
            for (unsigned flips = 1 + random() % 3; flips != 0; --flips)
                got[at()] ^= static_cast<char>(1 << random() % 7);
            break;
        case 1:
            got.erase(at(), 1 + random() % 3);
            break;
        case 2:
            got.insert(at(), 1, got[at()]);
            break;
        default: { // two lines run into each other
            got.resize(at());
            const std::string other = edge_line(static_cast<std::uint16_t>(random()), random(), 0);
            got += other.substr(random() % other.size());
        }
        }
        for (const std::string& line : hear(got).lines)
            if (line == sent)
                ++unharmed; // what came twice, or was put back
            else
                EXPECT_NE(got.find(line), std::string::npos) << "a line that nobody sent: " << line;
    }
    EXPECT_LT(unharmed, 2'000);
}

TEST(LinkWords, SettingsGoThroughTheWire) {
    core::Settings s;
    s.settle_us = 7'001;
    s.hold_us = 900'123;
    s.gap_prior_us = 350'000;
    s.rule = core::HoldRule::fixed;
    s.spread = false;
    LineWriter line;
    line.begin(1, link::down::settings);
    link::put_settings(line, s);
    line.finish();
    EXPECT_LT(line.size(), link::longest_line);
    LineReader reader;
    for (const char c : text_of(line))
        reader.add(c);
    Fields fields = reader.fields();
    const core::Settings read = link::take_settings(fields);
    ASSERT_TRUE(fields.complete());
    EXPECT_EQ(read.settle_us, 7'001u);
    EXPECT_EQ(read.pwm_gap_us, s.pwm_gap_us);
    EXPECT_EQ(read.hold_us, 900'123u);
    EXPECT_EQ(read.guard_us, s.guard_us);
    EXPECT_EQ(read.gap_prior_us, 350'000u);
    EXPECT_EQ(read.handover_us, s.handover_us);
    EXPECT_EQ(read.fall_window_us, s.fall_window_us);
    EXPECT_EQ(read.cut_margin_us, s.cut_margin_us);
    EXPECT_EQ(read.supply_gone_us, s.supply_gone_us);
    EXPECT_EQ(read.rule, core::HoldRule::fixed);
    EXPECT_TRUE(read.cut_short);
    EXPECT_FALSE(read.spread);
    EXPECT_TRUE(link::allowed_on_a_bike(core::Settings{}));
    s.settle_us = 20'001;
    EXPECT_FALSE(link::allowed_on_a_bike(s));
    s = {};
    s.hold_us = 1'200'001;
    EXPECT_FALSE(link::allowed_on_a_bike(s));
}

} // namespace
