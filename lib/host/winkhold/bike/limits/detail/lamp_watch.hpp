/// Lamp frames -> flashes of each turn group, lights of each side, presses of the brake.
#pragma once

#include "winkhold/bike/lamps/lamp_frames.hpp"
#include "winkhold/bike/limits/observed.hpp"

namespace winkhold::bike {

class LampWatch {
public:
    LampWatch(const LampPlan& plan, const core::Settings& decoder);
    void feed(const Edge& edge);
    /// Adds what was seen.
    void finish(TimeUs end_us, Observed& observed);

private:
    struct Group {
        core::LampGroup plays;
        std::uint16_t lit{0};                    ///< turn: so many lamps, now
        std::vector<TimeUs> lit_us{}, dark_us{}; ///< turn: per lamp of the present flash
        std::optional<std::size_t> last_flash{}; ///< turn: while its side is still shown
        bool at_full{false};                     ///< stop: now
    };

    void frame(const LampFrame& frame);
    void turn(std::size_t i, const LampFrame& frame);
    void end_flash(std::size_t i, TimeUs t_us);
    void answer_presses(TimeUs t_us);
    void side_lit(core::Side side, bool lit, TimeUs t_us);

    LampPlayer feed_;
    std::vector<Group> groups_;
    std::vector<LampFlash> flashes_;
    std::vector<StopPress> presses_; ///< while the brake is on, its last ones go on
    std::size_t pressed_from_{0};    ///< from here on
    std::vector<SeenLight> lights_[2];
    bool lit_[2]{};
};

} // namespace winkhold::bike
