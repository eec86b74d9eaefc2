/// Lamps x time, drawn for a terminal or in plain characters.
#pragma once

#include "winkhold/host/report/sequence_report.hpp"
#include "winkhold/host/sequence/lamp_frames.hpp"

#include <ostream>

namespace winkhold::host {

inline constexpr std::size_t picture_columns = 66;

/// A row for each lamp, one for neighbours that never differ. Keeps the brightest of each lamp and character.
class LampPicture {
public:
    LampPicture(const LampPlan& plan, const CloseUp& close_up);

    void frame(const LampFrame& frame);
    /// Nothing if no turn lamp was ever lit and no beginning was asked for.
    void draw(std::ostream& out, TimeUs end_us);

private:
    void fill(TimeUs to_us);
    void draw_group(std::ostream& out, std::size_t group, std::size_t first_row, std::size_t columns) const;
    std::string row(std::size_t row, std::size_t columns, LampColour colour) const;
    const std::uint8_t* cells(std::size_t row) const { return &cells_[row * picture_columns]; }

    const LampPlan& plan_;
    const CloseUp close_up_;
    const TimeUs column_us_;
    TimeUs from_us_;
    TimeUs filled_us_{0};
    LampFrame last_;
    std::vector<std::uint8_t> cells_; ///< rows = lamps, columns = stretches of time
};

/// Wide enough for most names; longer ones are cut.
std::string lamp_label(const std::string& name);

} // namespace winkhold::host
