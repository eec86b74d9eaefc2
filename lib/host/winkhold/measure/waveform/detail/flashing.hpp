/// The flasher: rider script -> bright phases, by each of the three side-change models.
#pragma once

#include "winkhold/measure/waveform/random.hpp"
#include "winkhold/measure/waveform/ride.hpp"

#include <boost/random/normal_distribution.hpp>

namespace winkhold::measure {

class Flashing {
public:
    Flashing(RideMaker& maker, RandomStream& random)
        : maker_(maker), model_(maker.scenario_.flasher), random_(random) {}

    /// Fills the maker's lights and the requests' light figures.
    void light_up();

private:
    struct Phase {
        TimeUs on_us;
        TimeUs dark_us;
    };

    void restart();
    void free_running();
    void whole_cycle();

    /// When the request's switch contact is closed: later than the request where the switch travels.
    /// A negative travel is noted: for so long the old contact is closed, too.
    TimeUs closes_us(std::size_t request);
    /// The phase that begins at `t_us`. A flasher that stays on is lit until `end_us`.
    Phase next_phase(TimeUs t_us, TimeUs end_us);
    bool lamp_is_out(int flash) const;
    /// What comes next is asked for by this request; its flashes count from 1.
    void begin(const Request& request);
    /// The next phase is one of the second rhythm.
    bool takes_second_rhythm();
    void plant(Planted::What what, TimeUs from_us, TimeUs to_us);
    void light(Request& request, TimeUs on_us, TimeUs off_us);
    /// Closes the contacts; one that is closed until `on_us` just stays closed, and does not bounce.
    void close(core::Indication show, TimeUs on_us, TimeUs off_us);

    RideMaker& maker_;
    const FlasherModel& model_;
    RandomStream& random_;
    boost::random::normal_distribution<double> normal_;
    int flashes_{0};
    const Request* asked_{nullptr};
    int flashes_asked_{0};     ///< of this request
    bool second_asked_{false}; ///< it was drawn for the second rhythm
    std::size_t cycle_at_{0};
    core::Indication still_closed_{core::Indication::off}; ///< the old side's contact
    TimeUs still_closed_until_us_{0};
};

} // namespace winkhold::measure
