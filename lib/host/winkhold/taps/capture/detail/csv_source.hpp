/// Edges from a CSV file.
#pragma once

#include "winkhold/taps/capture/detail/csv_plain_rows.hpp"
#include "winkhold/taps/capture/detail/text_input.hpp"

#include <array>
#include <memory>
#include <optional>

namespace winkhold::taps::capture {

class CsvSource : public EdgeSource {
public:
    /// Reads the header. `file` names the input in errors.
    CsvSource(std::string file, std::unique_ptr<TextInput> input, const RecordingOptions& options);

    bool next(Edge& edge) override {
        if (delivered_ == found_ && !find_edges()) return false;
        edge = edges_[delivered_++];
        return true;
    }
    TimeUs end_us() const override { return reading_.t_us; }

private:
    void read_header(const RecordingOptions& options);
    bool find_edges();
    void read_rows();
    bool have_line() { return at_ != input_->end() || refill(); }
    bool refill();
    const char* split_row();
    void read_any_row();
    void read_field(const CsvColumn& column, std::string_view text);
    void expect_blank_rest();
    [[noreturn]] void refuse_field_count() const;

    std::string file_;
    std::unique_ptr<TextInput> input_;
    const char* at_;
    long long line_{1}; // of the row at at_

    TapRules rules_;
    CsvLayout layout_;
    std::optional<CsvPlainRows> plain_rows_; // known behind the header
    CsvRow row_;
    CsvReading reading_; // of the row read last
    bool has_rows_{false};

    // Edges found ahead of those delivered.
    std::array<Edge, 1024> edges_;
    std::size_t found_{0};
    std::size_t delivered_{0};
};

} // namespace winkhold::taps::capture
