#include "winkhold/taps/hindsight/report.hpp"

#include "winkhold/base/error.hpp"
#include "winkhold/base/names.hpp"
#include "winkhold/base/text/detail/strip.hpp"
#include "winkhold/base/text/detail/text_out.hpp"
#include "winkhold/taps/decode/detail/decoded_with.hpp"
#include "winkhold/taps/hindsight/disagreements.hpp"

#include <algorithm>
#include <fmt/format.h>
#include <sstream>

namespace winkhold::taps {
namespace {

using core::Side;

/// Passes a recording on; decoder and smoother listen.
class Overheard : public EdgeSource {
public:
    Overheard(EdgeSource& source, const core::Settings& settings)
        : source_(source), smoother_(settings), replay_(settings), causal_(answer_) {}

    bool next(Edge& edge) override {
        if (!source_.next(edge)) return false;
        smoother_.feed(edge);
        replay_.feed(edge, causal_);
        return true;
    }
    TimeUs end_us() const override { return source_.end_us(); }
    std::vector<Caveat> caveats() const override { return source_.caveats(); }

    Smoothed hindsight() { return smoother_.finish(end_us()); }
    const Timeline& answer() {
        replay_.finish(end_us(), causal_);
        return answer_;
    }

private:
    EdgeSource& source_;
    Smoother smoother_;
    Replay replay_;
    Timeline answer_;
    TimelineRecorder causal_;
};

struct Comparison {
    Smoothed smoothed;
    Allowance allowed;
    std::vector<Disagreeing> found;

    /// How sure the smoother is of its answer there.
    double confidence(const Disagreeing& disagreeing) const {
        const auto next =
            std::upper_bound(smoothed.timeline.begin(), smoothed.timeline.end(), disagreeing.from_us,
                             [](TimeUs t_us, const IndicationChange& change) { return t_us < change.t_us; });
        return smoothed.confidence[static_cast<std::size_t>(next - smoothed.timeline.begin()) - 1];
    }
};

double seconds(TimeUs us) {
    return static_cast<double>(us) / 1e6;
}
double milliseconds(TimeUs us) {
    return static_cast<double>(us) / 1e3;
}

void add_json(std::ostream& out, const Comparison& comparison) {
    const char* between = "";
    print_to(out, ",\n\"disagreements\":[");
    for (const Disagreeing& one : comparison.found) {
        print_to(out,
                 "{}\n{{\"from_us\":{},\"to_us\":{},\"causal\":\"{}\",\"smoother\":\"{}\",\"kind\":\"{}\","
                 "\"confidence\":{:.4f}}}",
                 between, one.from_us, one.to_us, name(one.causal), name(one.smoother), name(one.kind),
                 comparison.confidence(one));
        between = ",";
    }
    print_to(out, "]");
}

void draw(std::ostream& out, const Smoothed& smoothed) {
    constexpr std::size_t columns = 66; // as the decoder's own strips
    for (const Side side : {Side::left, Side::right}) {
        Strip strip;
        for (const IndicationChange& change : smoothed.timeline)
            strip.level(change.t_us, core::shows(change.indication, side));
        print_to(out, "{:>12} {}\n", fmt::format("asked {}", name(side)),
                 strip.draw(smoothed.start_us, smoothed.end_us, columns));
    }
}

void add_text(std::ostream& out, const Comparison& comparison) {
    constexpr std::size_t most = 40;
    const std::vector<Disagreeing>& found = comparison.found;
    const Allowance& allowed = comparison.allowed;
    print_to(out, "With hindsight (the whole recording known, dark gaps told from cancels)\n");
    draw(out, comparison.smoothed);
    print_to(
        out,
        "{:>12} acquire {:.3g} ms, release left {:.4g} ms and right {:.4g} ms,\n{:>12} overlap {:.3g} ms\n",
        "allowed:", milliseconds(allowed.acquire_us), milliseconds(allowed.release_us[0]),
        milliseconds(allowed.release_us[1]), "", milliseconds(allowed.overlap_us));
    if (allowed.unknown_until_us > comparison.smoothed.start_us)
        print_to(out, "{:>12} release {:.4g} ms while too few gaps are known\n", "",
                 milliseconds(allowed.unknown_release_us));
    print_to(out, "\n");
    print_to(out, "Disagreements beyond that{}\n", found.empty() ? ": none" : " (and how sure hindsight is)");
    for (std::size_t i = 0; i < std::min(found.size(), most); ++i) {
        const Disagreeing& one = found[i];
        print_to(out, "{:>14.6f} s  {:<12} {:>8.1f} ms  shown {}, asked {} ({:.0f} %)\n",
                 seconds(one.from_us), name(one.kind), milliseconds(one.to_us - one.from_us),
                 name(one.causal), name(one.smoother), 100 * comparison.confidence(one));
    }
    if (found.size() > most)
        print_to(out, "{:>16}  and {} more; --json lists all\n", "", found.size() - most);
    print_to(out, "\n");
}

} // namespace

std::size_t write_decoded_with_hindsight(std::ostream& out, EdgeSource& source,
                                         const core::Settings& settings, Format format,
                                         const std::string& name) {
    if (format == Format::csv)
        throw InputError("--hindsight with --csv: CSV has no rows for disagreements, use --json");
    Overheard overheard(source, settings);
    std::size_t count = 0;
    std::ostringstream written;
    write_decoded_with(written, overheard, settings, format, name, [&] {
        const Timeline& answer = overheard.answer();
        Smoothed smoothed = overheard.hindsight();
        const Allowance allowed = allowance(smoothed, settings);
        std::vector<Disagreeing> found = disagreements(answer, smoothed.timeline, allowed, smoothed.end_us);
        count = found.size();
        const Comparison comparison{std::move(smoothed), allowed, std::move(found)};
        format == Format::json ? add_json(written, comparison) : add_text(written, comparison);
    });
    out << written.str();
    return count;
}

} // namespace winkhold::taps
