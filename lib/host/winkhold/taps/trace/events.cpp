#include "winkhold/taps/trace/events.hpp"

#include "winkhold/base/names.hpp"

#include <boost/signals2/dummy_mutex.hpp>
#include <boost/signals2/signal_type.hpp>
#include <optional>

namespace winkhold::taps {
namespace {

namespace sig = boost::signals2;

template <class Signature>
using Signal = typename sig::signal_type<Signature, sig::keywords::mutex_type<sig::dummy_mutex>>::type;

} // namespace

struct DecodedFeed::Signals {
    explicit Signals(const core::Settings& settings) : replay(settings) {}

    void observe(TimeUs t_us, const core::Decoder& decoder) {
        if (decoder.indication() != shown) {
            shown = decoder.indication();
            indication(t_us, decoder.indication());
        }
        for (const core::Side side : {core::Side::left, core::Side::right}) {
            std::uint8_t& known = faults[static_cast<std::size_t>(side)];
            const std::uint8_t now = decoder.faults(side);
            if (now == known) continue;
            for (const core::Fault one : all_faults)
                if ((now & ~known & one) != 0) fault(FaultEvent{t_us, one, side});
            known = now;
        }
    }

    Replay replay;
    std::optional<core::Indication> shown;
    std::uint8_t faults[2]{};
    Signal<void(const Edge&)> edge;
    Signal<void(TimeUs, core::Indication)> indication;
    Signal<void(const FaultEvent&)> fault;
};

DecodedFeed::DecodedFeed(const core::Settings& settings) : signals_(std::make_unique<Signals>(settings)) {}
DecodedFeed::~DecodedFeed() = default;
DecodedFeed::DecodedFeed(DecodedFeed&&) noexcept = default;
DecodedFeed& DecodedFeed::operator=(DecodedFeed&&) noexcept = default;

void DecodedFeed::on_edge(std::function<void(const Edge&)> listener) {
    signals_->edge.connect(std::move(listener));
}

void DecodedFeed::on_indication(std::function<void(TimeUs, core::Indication)> listener) {
    signals_->indication.connect(std::move(listener));
}

void DecodedFeed::on_fault(std::function<void(const FaultEvent&)> listener) {
    signals_->fault.connect(std::move(listener));
}

void DecodedFeed::feed(const Edge& edge) {
    signals_->edge(edge);
    signals_->replay.feed(
        edge, [this](TimeUs t_us, const core::Decoder& decoder) { signals_->observe(t_us, decoder); });
}

void DecodedFeed::finish(TimeUs end_us) {
    signals_->replay.finish(
        end_us, [this](TimeUs t_us, const core::Decoder& decoder) { signals_->observe(t_us, decoder); });
}

} // namespace winkhold::taps
