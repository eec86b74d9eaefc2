/// A line between board and computer: readable in any terminal, numbered, and with a checksum of its own.
///
///     :0a3f e 1234567 03 9ab0c1d2
///      |    | |       |  CRC-32 of all between the colon and the space ahead of it, 8 hexadecimal digits
///      |    | fields, a space ahead of each
///      |    what it says, one letter
///      the sender's count of its lines, 4 hexadecimal digits; it wraps
///
/// Lines end in LF; a colon always begins one, so that a reader may join at any byte. Lines that a sender had
/// to drop are counted, too: a gap in the numbers is a line that is missing, wherever it was lost.
#pragma once

#include "winkhold/link/crc32.hpp"

namespace winkhold {
namespace link {

/// Of a line with everything, LF included.
constexpr uint8_t longest_line = 120;
constexpr uint8_t checksum_digits = 8;

/// Writes one line at a time. A line that grows too long is cut; nothing of this project's is.
class LineWriter {
public:
    /// Begins a line: its number and what it says.
    void begin(uint16_t number, char kind) {
        size_ = 0;
        crc_ = Crc32{};
        text_[size_++] = ':'; // no part of what the checksum is of
        digits(number, 4);
        put(' ');
        put(kind);
    }
    /// A field in decimal.
    void number(uint32_t value) {
        put(' ');
        constexpr uint32_t tens[] = {1000000000, 100000000, 10000000, 1000000, 100000,
                                     10000,      1000,      100,      10,      1};
        bool begun = false;
        for (const uint32_t ten : tens) {
            char digit = '0';
            for (; value >= ten; value -= ten)
                ++digit;
            begun = begun || digit != '0' || ten == 1;
            if (begun) put(digit);
        }
    }
    /// A field in hexadecimal, of so many digits.
    void hex(uint32_t value, uint8_t count) {
        put(' ');
        digits(value, count);
    }
    /// The checksum and the end. The line then stands in text(), size() bytes long.
    void finish() {
        const uint32_t crc = crc_.value();
        text_[size_++] = ' ';
        for (uint8_t i = checksum_digits; i-- != 0;)
            text_[size_++] = digit(crc, i);
        text_[size_++] = '\n';
    }

    /// Not ended by a zero.
    const char* text() const { return text_; }
    /// With the line feed.
    uint8_t size() const { return size_; }

private:
    static constexpr uint8_t ending = checksum_digits + 2;

    void put(char c) {
        if (size_ == longest_line - ending) return;
        text_[size_++] = c;
        crc_.add(static_cast<uint8_t>(c));
    }
    /// The digit of value that has so many behind it.
    static char digit(uint32_t value, uint8_t behind) {
        const uint8_t bits = static_cast<uint8_t>((value >> (behind * 4u)) & 15u);
        return static_cast<char>(bits < 10 ? '0' + bits : 'a' + bits - 10);
    }
    void digits(uint32_t value, uint8_t count) {
        while (count-- != 0)
            put(digit(value, count));
    }

    char text_[longest_line]{};
    uint8_t size_{0};
    Crc32 crc_;
};

/// The fields of a line that has come in whole, taken one by one. What is not as it should be makes failed()
/// true for good, so that one look at the end is enough.
class Fields {
public:
    /// Reads [from, end).
    constexpr Fields(const char* from, const char* end) : at_(from), end_(end) {}

    /// The next one, a decimal number of at most `most`, without needless zeros. 0 if there is none.
    constexpr uint32_t number(uint32_t most = 0xffffffff) {
        if (!space()) return 0;
        const char* const from = at_;
        uint32_t value = 0;
        for (; at_ != end_ && *at_ >= '0' && *at_ <= '9'; ++at_) {
            const uint32_t digit = static_cast<uint32_t>(*at_ - '0');
            if (value > 429496729u || (value == 429496729u && digit > 5)) failed_ = true;
            value = (value << 3) + (value << 1) + digit;
        }
        if (at_ == from || (*from == '0' && at_ != from + 1) || value > most) failed_ = true;
        return failed_ ? 0 : value;
    }
    /// The next one, exactly so many hexadecimal digits, small letters. 0 if there is none.
    constexpr uint32_t hex(uint8_t count) {
        if (!space()) return 0;
        return digits(count);
    }
    /// So many digits right here.
    constexpr uint32_t digits(uint8_t count) {
        uint32_t value = 0;
        for (; count != 0; --count, ++at_) {
            if (at_ == end_) failed_ = true;
            if (failed_) return 0;
            const char c = *at_;
            const bool is_letter = c >= 'a' && c <= 'f';
            if (!is_letter && (c < '0' || c > '9')) {
                failed_ = true;
                return 0;
            }
            value = (value << 4) | static_cast<uint32_t>(is_letter ? c - 'a' + 10 : c - '0');
        }
        return value;
    }
    /// One character behind a space, such as the letter that says what a line is.
    constexpr char letter() {
        if (!space() || at_ == end_) {
            failed_ = true;
            return '\0';
        }
        return *at_++;
    }
    /// Nothing failed, and nothing is left.
    constexpr bool complete() const { return !failed_ && at_ == end_; }
    /// A field was not as it should be.
    constexpr bool failed() const { return failed_; }

private:
    constexpr bool space() {
        if (failed_ || at_ == end_ || *at_ != ' ') {
            failed_ = true;
            return false;
        }
        ++at_;
        return true;
    }

    const char* at_;
    const char* end_;
    bool failed_{false};
};

/// Puts lines together from single bytes; what is damaged is told, never passed on.
class LineReader {
public:
    /// What a byte led to.
    enum class Got : uint8_t {
        nothing, ///< the line goes on
        line,    ///< number(), kind() and fields() hold until the next byte
        damaged, ///< what has come since the last line, or a part of it, was one once
    };

    /// A line has begun and not ended.
    bool is_open() const { return open_; }
    /// The next byte.
    Got add(char c) {
        if (c == ':') {
            const bool was_open = open_;
            open_ = true;
            size_ = 0;
            return was_open ? Got::damaged : Got::nothing;
        }
        if (!open_) return Got::nothing;
        if (c == '\n') {
            open_ = false;
            return is_right() ? Got::line : Got::damaged;
        }
        if (c == '\r') return Got::nothing; // a log that went through an editor
        if (c < ' ' || c > '~' || size_ == sizeof text_) {
            open_ = false;
            return Got::damaged;
        }
        text_[size_++] = c;
        return Got::nothing;
    }
    /// The port was silent, or closed, in mid-line: whatever is open is damaged.
    Got stop() {
        const bool was_open = open_;
        open_ = false;
        return was_open ? Got::damaged : Got::nothing;
    }

    /// The sender's count.
    uint16_t number() const { return number_; }
    /// The letter that says what it is.
    char kind() const { return kind_; }
    /// Of the whole line; it was right.
    uint32_t checksum() const { return checksum_; }
    /// Those behind the kind.
    Fields fields() const { return Fields(text_ + before_fields, text_ + size_ - checksum_digits - 1); }

private:
    static constexpr uint8_t before_fields = 6; // "0a3f e"

    bool is_right() {
        if (size_ < before_fields + 1 + checksum_digits) return false;
        const uint8_t said = static_cast<uint8_t>(size_ - checksum_digits - 1);
        Crc32 crc;
        for (uint8_t i = 0; i < said; ++i)
            crc.add(static_cast<uint8_t>(text_[i]));
        Fields sum(text_ + said, text_ + size_);
        Fields head(text_, text_ + before_fields);
        number_ = static_cast<uint16_t>(head.digits(4));
        kind_ = head.letter();
        checksum_ = sum.hex(checksum_digits);
        return checksum_ == crc.value() && sum.complete() && head.complete();
    }

    char text_[longest_line]{};
    uint8_t size_{0};
    bool open_{false};
    uint16_t number_{0};
    char kind_{'\0'};
    uint32_t checksum_{0};
};

} // namespace link
} // namespace winkhold
