#include "winkhold/taps/capture/detail/csv_source.hpp"

#include "winkhold/taps/capture/detail/complaint.hpp"
#include "winkhold/taps/capture/detail/csv_head.hpp"

namespace winkhold::taps::capture {

CsvSource::CsvSource(std::string file, std::unique_ptr<TextInput> input, const RecordingOptions& options)
    : file_(std::move(file)), input_(std::move(input)) {
    long long line = 1;
    located(file_, line, [&] {
        const CsvHead head = read_csv_head(*input_, options, line);
        at_ = head.rows;
        rows_.emplace(head.layout, options, head.line);
    });
}

bool CsvSource::find_edges() {
    found_ = delivered_ = 0;
    return located(file_, rows_->line(), [this] {
        while (found_ == 0 && read_rows())
            continue;
        if (!rows_->has_rows()) throw Complaint{"no rows behind the header; was anything recorded?"};
        return found_ > 0;
    });
}

// Reads the rows at hand; false at the end of the input.
bool CsvSource::read_rows() {
    if (at_ == input_->end() && !refill()) return false;
    const auto progress = rows_->read(at_, input_->end(), edges_);
    const bool is_stuck = progress.at == at_ && progress.edges == 0;
    at_ = progress.at;
    found_ = progress.edges;
    if (is_stuck && !refill())
        throw Complaint{"a quote opened here is never closed; close it, or leave the quotes out"};
    return true;
}

bool CsvSource::refill() {
    const bool more = input_->refill(at_);
    at_ = input_->begin();
    return more;
}

} // namespace winkhold::taps::capture
