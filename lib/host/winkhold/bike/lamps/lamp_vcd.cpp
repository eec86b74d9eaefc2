// What the lamps show as a value change dump (IEEE 1364).
#include "winkhold/base/text/detail/vcd_writer.hpp"
#include "winkhold/bike/lamps/lamp_frames.hpp"
#include "winkhold/bike/lamps/sequence_report.hpp"

#include <fmt/format.h>
#include <set>

namespace winkhold::bike {
namespace {

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
        : source_(source), plan_(plan), player_(settings, plan), vcd_(out, VcdWriter::Zeros::left_out) {
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
    void write_head() {
        for (const char* line : {"left", "right"})
            vcd_.add_signal(line);
        indication_ = vcd_.add_signal("indication", 2);
        std::set<std::string> taken;
        for (const LampGroup& group : plan_.lamps) {
            vcd_.open_scope(scope_of(group.name, taken));
            for (int lamp = 1; lamp <= group.plays.count; ++lamp)
                vcd_.add_signal(fmt::format("lamp_{}", lamp), 8);
            vcd_.close_scope();
        }
        vcd_.end_head();
    }

    void write(core::Lines lines) {
        for (const core::Side side : {core::Side::left, core::Side::right})
            vcd_.set(t_us_, static_cast<VcdWriter::Signal>(side), lines.has(side) ? 1 : 0);
    }

    void write(const LampFrame& frame) {
        VcdWriter::Signal signal = indication_;
        vcd_.set(t_us_, signal++, static_cast<unsigned>(frame.shown));
        for (std::size_t i = 0; i < frame.groups.size(); ++i)
            for (std::uint16_t lamp = 0; lamp < plan_.lamps[i].plays.count; ++lamp)
                vcd_.set(t_us_, signal++, frame.groups[i].brightness(lamp));
    }

    void finish() {
        is_finished_ = true;
        player_.finish(end_us());
        vcd_.finish(end_us());
    }

    EdgeSource& source_;
    const LampPlan& plan_;
    LampPlayer player_;
    VcdWriter vcd_;
    VcdWriter::Signal indication_{0}; ///< the lamps follow, group by group
    TimeUs t_us_{0};
    bool is_finished_{false};
};

} // namespace

std::unique_ptr<EdgeSource> write_lamp_vcd(EdgeSource& source, const core::Settings& settings,
                                           const LampPlan& plan, std::ostream& out) {
    return std::make_unique<LampVcd>(source, settings, plan, out);
}

} // namespace winkhold::bike
