/// Lamps x time, drawn for a terminal or in plain characters.
#pragma once

#include "winkhold/bike/lamps/lamp_frames.hpp"
#include "winkhold/bike/lamps/sequence_report.hpp"

#include <ostream>

namespace winkhold::bike {

/// Of each row: a group's name, the numbers of its lamps, the picture. Together and with a space between them
/// within 80 columns.
inline constexpr std::size_t name_columns = 14;
inline constexpr std::size_t number_columns = 7;
inline constexpr std::size_t picture_columns = 55;

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

/// A row of the picture, or one like it. A name too long to stand in front of it stands above it.
std::string picture_row(const std::string& name, const std::string& numbers, const std::string& drawn);

} // namespace winkhold::bike
