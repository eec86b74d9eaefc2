/// The flasher: rider script -> bright phases, by each of the three side-change models.
#pragma once

#include "winkhold/host/waveform/random.hpp"
#include "winkhold/host/waveform/ride.hpp"

#include <boost/random/normal_distribution.hpp>

namespace winkhold::host {

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
    TimeUs closes_us(std::size_t request) const;
    Phase next_phase();
    void light(Request& request, TimeUs on_us, TimeUs off_us);

    RideMaker& maker_;
    const FlasherModel& model_;
    RandomStream& random_;
    boost::random::normal_distribution<double> normal_;
    int flashes_{0};
};

} // namespace winkhold::host
