/// Edges from a VCD file.
#pragma once

#include "winkhold/taps/capture/detail/vcd_plain_changes.hpp"

#include <array>
#include <memory>
#include <optional>

namespace winkhold::taps::capture {

/// All changes behind one time stamp make one edge. A value of x or z leaves a tap as it was, and is counted.
class VcdSource : public EdgeSource {
public:
    /// Reads the definitions. `file` names the input in errors.
    VcdSource(std::string file, std::unique_ptr<TextInput> input, const RecordingOptions& options);

    bool next(Edge& edge) override {
        if (delivered_ == found_ && !find_edges()) return false;
        edge = edges_[delivered_++];
        return true;
    }
    TimeUs end_us() const override { return moment_.t_us; }
    std::vector<Caveat> caveats() const override;

private:
    void read_definitions(const RecordingOptions& options);
    bool find_edges();
    void read_words();
    void end_moment();
    void finish();
    void start_moment(std::string_view word);
    void read_command(std::string_view word);
    void read_change(std::string_view word);
    void change(std::size_t signal, std::string_view value, bool is_real);
    void change_tap(const PlacedTap& placed, std::string_view value, bool is_real);
    void change_bit(const PlacedTap& placed, std::string_view bits);
    void pass_text();
    std::size_t signal_of(std::string_view code) const;

    std::string file_;
    VcdWords words_;
    TapRules rules_;
    std::function<void(TimeUs, Lines::Tap, double)> on_volts_;

    // Known behind the definitions.
    std::optional<VcdDefinitions> definitions_;
    std::vector<PlacedTap> taps_;
    std::vector<Caveat> left_out_;
    std::optional<VcdPlainChanges> plain_changes_;

    VcdMoment moment_;
    bool has_time_{false};
    bool has_edge_{false};
    std::string section_;           // the $dump... that is open, if any
    std::string value_;             // while its code is read
    std::int64_t unknown_count_{0}; // values of x or z on a tap
    TimeUs first_unknown_us_{0};
    UnreadTaps unread_;

    // Edges found ahead of those delivered.
    std::array<Edge, 1024> edges_;
    std::size_t found_{0};
    std::size_t delivered_{0};
};

} // namespace winkhold::taps::capture
