/// The signals a VCD file declares.
#pragma once

#include "winkhold/taps/capture/detail/taps.hpp"

#include <array>
#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <unordered_map>
#include <vector>

namespace winkhold::taps::capture {

/// What the value changes of one identifier code are about.
struct VcdSignal {
    /// `unclear`: its code is declared as two different things.
    enum class Kind { bits, real, text, unclear };

    Kind kind{Kind::bits};
    unsigned width{1}; ///< bits

    bool is_vector() const { return kind == Kind::bits && width > 1; }
    friend bool operator==(const VcdSignal&, const VcdSignal&) = default;
};

/// Signals by identifier code, and by the names that variables give them.
class VcdSignals {
public:
    static constexpr std::size_t undeclared = static_cast<std::size_t>(-1);

    VcdSignals() { short_codes_.fill(undeclared); }

    /// Adds a variable. `name` leads with its scopes; it may end in a range, as in "top.bus[7:0]". Throws
    /// Complaint when the names get too many to keep.
    void declare(std::string_view code, VcdSignal signal, std::string_view name);

    /// The index of the signal with this code, or `undeclared`.
    std::size_t index_of(std::string_view code) const;

    const VcdSignal& operator[](std::size_t index) const { return signals_[index]; }

    /// The one-bit or real signal of this name, or the bit of a vector, as in "bus[2]". Scopes may be left
    /// out as long as one signal is meant; else throws Complaint, and if it can't be a tap.
    std::optional<Place> find(std::string_view name) const;

    /// Those that can be taps, as declared.
    std::vector<std::string> names() const;

private:
    struct Range {
        int left;
        int right;
    };
    struct Variable {
        std::string name; // without the range
        std::optional<Range> range;
        std::size_t signal;
    };
    struct Hash : std::hash<std::string_view> {
        using is_transparent = void;
    };

    static std::optional<Range> take_range(std::string_view& name);
    std::string written(const Variable& variable) const;
    void refuse_what_is_no_tap(std::string_view name) const;
    std::optional<Place> place_in(const Variable& variable, std::string_view name) const;
    std::optional<unsigned> bit_of(const Variable& variable, int number) const;

    static constexpr std::size_t most_memory = std::size_t{32} << 20;

    std::size_t memory_{0}; // about what the declarations take
    std::vector<VcdSignal> signals_;
    std::vector<Variable> variables_;
    std::array<std::size_t, 256> short_codes_{}; // those of one character, as most are
    std::unordered_map<std::string, std::size_t, Hash, std::equal_to<>> long_codes_;
};

} // namespace winkhold::taps::capture
