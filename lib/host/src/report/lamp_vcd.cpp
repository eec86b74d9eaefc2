// What the lamps show as a value change dump (IEEE 1364).
#include "text_out.hpp"
#include "winkhold/host/report/sequence_report.hpp"
#include "winkhold/host/sequence/lamp_frames.hpp"

#include <algorithm>
#include <set>

namespace winkhold::host {
namespace {

/// An identifier code: printable characters, as many as it takes.
std::string code(std::size_t number) {
    std::string code;
    do {
        code += static_cast<char>('!' + number % 94);
        number /= 94;
    } while (number > 0);
    return code;
}

/// A name that any viewer takes, other than those before.
std::string scope_of(const std::string& group, std::set<std::string>& taken) {
    std::string scope;
    for (const char c : group)
        scope += std::isalnum(static_cast<unsigned char>(c)) != 0 ? c : '_';
    while (!taken.insert(scope).second)
        scope += '_';
    return scope;
}

class LampVcd : public EdgeSource {
public:
    LampVcd(EdgeSource& source, const core::Settings& settings, const LampPlan& plan, std::ostream& out)
        : source_(source), plan_(plan), player_(settings, plan), text_(out) {
        write_head();
        player_.on_frame([this](const LampFrame& frame) {
            t_us_ = frame.t_us;
            write(frame);
        });
    }

    bool next(Edge& edge) override {
        if (source_.next(edge)) {
            player_.feed(edge);
            t_us_ = edge.t_us;
            write(edge.lines);
            return true;
        }
        if (!is_finished_) finish();
        return false;
    }
    TimeUs end_us() const override { return source_.end_us(); }
    std::vector<Caveat> caveats() const override { return source_.caveats(); }

private:
    static constexpr std::size_t first_lamp = 3;

    void write_head() {
        text_.add("$timescale 1 us $end\n$scope module winkhold $end\n");
        text_.add("$var wire 1 {} left $end\n$var wire 1 {} right $end\n", code(0), code(1));
        text_.add("$var wire 2 {} indication [1:0] $end\n", code(2));
        std::set<std::string> taken;
        std::size_t signal = first_lamp;
        for (const LampGroup& group : plan_.lamps) {
            text_.add("$scope module {} $end\n", scope_of(group.name, taken));
            for (int lamp = 1; lamp <= group.plays.count; ++lamp)
                text_.add("$var wire 8 {} lamp_{} [7:0] $end\n", code(signal++), lamp);
            text_.add("$upscope $end\n");
        }
        text_.add("$upscope $end\n$enddefinitions $end\n");
        known_.assign(signal, -1);
    }

    void write(core::Lines lines) {
        put(0, lines.has(core::Side::left) ? 1 : 0, 1);
        put(1, lines.has(core::Side::right) ? 1 : 0, 1);
    }

    void write(const LampFrame& frame) {
        put(2, static_cast<int>(frame.shown), 2);
        std::size_t signal = first_lamp;
        for (std::size_t i = 0; i < frame.groups.size(); ++i)
            for (std::uint16_t lamp = 0; lamp < plan_.lamps[i].plays.count; ++lamp)
                put(signal++, frame.groups[i].brightness(lamp), 8);
    }

    void put(std::size_t signal, int value, int bits) {
        if (known_[signal] == value) return;
        known_[signal] = value;
        if (t_us_ != written_us_) text_.add("#{}\n", written_us_ = t_us_);
        if (bits == 1)
            text_.add("{}{}\n", value, code(signal));
        else
            text_.add("b{:b} {}\n", value, code(signal));
    }

    void finish() {
        is_finished_ = true;
        player_.finish(end_us());
        if (end_us() > written_us_) text_.add("#{}\n", end_us());
        text_.flush();
    }

    EdgeSource& source_;
    const LampPlan& plan_;
    LampPlayer player_;
    TextOut text_;
    std::vector<int> known_; ///< by signal
    TimeUs t_us_{0};
    TimeUs written_us_{-1};
    bool is_finished_{false};
};

} // namespace

std::unique_ptr<EdgeSource> write_lamp_vcd(EdgeSource& source, const core::Settings& settings,
                                           const LampPlan& plan, std::ostream& out) {
    return std::make_unique<LampVcd>(source, settings, plan, out);
}

} // namespace winkhold::host
