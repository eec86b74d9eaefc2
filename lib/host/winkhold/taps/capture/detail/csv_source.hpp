/// Edges from a CSV file.
#pragma once

#include "winkhold/taps/capture/detail/csv_rows.hpp"
#include "winkhold/taps/capture/detail/text_input.hpp"

#include <array>
#include <memory>
#include <optional>

namespace winkhold::taps::capture {

class CsvSource : public EdgeSource {
public:
    /// Reads what is ahead of the rows. `file` names the input in errors.
    CsvSource(std::string file, std::unique_ptr<TextInput> input, const RecordingOptions& options);

    bool next(Edge& edge) override {
        if (delivered_ == found_ && !find_edges()) return false;
        edge = edges_[delivered_++];
        return true;
    }
    TimeUs end_us() const override { return rows_->end_us(); }
    std::vector<Caveat> caveats() const override { return rows_->caveats(); }

private:
    bool find_edges();
    bool read_rows();
    bool refill();

    std::string file_;
    std::unique_ptr<TextInput> input_;
    const char* at_{nullptr};
    std::optional<CsvRows> rows_; // known behind the head

    // Edges found ahead of those delivered.
    std::array<Edge, 1024> edges_;
    std::size_t found_{0};
    std::size_t delivered_{0};
};

} // namespace winkhold::taps::capture
