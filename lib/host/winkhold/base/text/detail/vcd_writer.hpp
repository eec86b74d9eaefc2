/// Value change dumps (IEEE 1364-2001, chapter 18).
#pragma once

#include "winkhold/base/text/detail/text_out.hpp"
#include "winkhold/base/time.hpp"

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace winkhold::base {

/// Signals of the scope "winkhold" in ticks of 1 us, on their way to a stream; memory stays flat. First
/// scopes and signals, then end_head(), then values in order of time, then finish(). Names are without
/// blanks.
class VcdWriter {
public:
    /// Numbered in the order in which they are added, from 0 on.
    using Signal = std::size_t;
    /// Leading zeros of a signal of several bits may be left out (18.2.1).
    enum class Zeros { kept, left_out };

    explicit VcdWriter(std::ostream& out, Zeros zeros = Zeros::kept);

    void open_scope(std::string_view name);
    void close_scope();
    /// `code`: printable characters that stand for the signal, another for each; empty: the next that is
    /// free, as long as all signals leave it empty.
    Signal add_signal(std::string_view name, unsigned bits = 1, std::string code = {});
    void end_head();

    /// What all signals are at first, in the order in which they were added.
    void first_values(TimeUs t_us, std::span<const unsigned> values);
    /// What comes now is later than what came before, even if the clock shows the same moment.
    void begin_step() { is_new_step_ = true; }
    /// Written if it is another one than before, or the first.
    void set(TimeUs t_us, Signal signal, unsigned value);
    /// Says how long the last values lasted.
    void finish(TimeUs end_us);

private:
    struct Known {
        std::string code;
        unsigned bits;
        std::optional<unsigned> value{};
    };
    void stamp(TimeUs t_us);

    TextOut text_;
    Zeros zeros_;
    std::vector<Known> signals_;
    TimeUs stamped_us_{-1};
    bool is_new_step_{false};
};

} // namespace winkhold::base
