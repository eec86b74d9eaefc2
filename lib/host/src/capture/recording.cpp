#include "winkhold/host/capture/recording.hpp"

#include "capture/bytes.hpp"
#include "capture/complaint.hpp"
#include "capture/csv_source.hpp"
#include "capture/vcd_source.hpp"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace winkhold::host {
namespace {

using namespace capture;

void check(const RecordingOptions& options) {
    if (options.left == "none" && options.right == "none") {
        throw Complaint{"left and right are both \"none\"; name at least one side with --left or --right"};
    }
    const bool finite = std::isfinite(options.on_above_v) && std::isfinite(options.off_below_v);
    if (!finite || options.off_below_v > options.on_above_v) {
        throw Complaint{
            fmt::format("the thresholds are on above {} V, off below {} V; the first must not be below the "
                        "second",
                        options.on_above_v, options.off_below_v)};
    }
}

std::string_view text_at_hand(const TextInput& input) {
    return {input.begin(), static_cast<std::size_t>(input.end() - input.begin())};
}

bool is_vcd(TextInput& input) {
    for (;;) {
        const std::string_view text = text_at_hand(input);
        if (!std::all_of(text.begin(), text.end(), [](char c) { return is_text(c) || is_space(c); })) {
            throw Complaint{"this is no text; a recording is a CSV or VCD file (in UTF-8, if it comes from a "
                            "spreadsheet)"};
        }
        const auto first = std::find_if_not(text.begin(), text.end(), is_space);
        if (first != text.end()) return *first == '$';
        if (!input.refill(input.begin())) throw Complaint{"the file is empty; was anything recorded?"};
    }
}

} // namespace

std::unique_ptr<EdgeSource> open_recording(const std::string& path, const RecordingOptions& options) {
    const std::string file = path == "-" ? "standard input" : path;
    return located(file, 0, [&]() -> std::unique_ptr<EdgeSource> {
        check(options);
        auto input = std::make_unique<TextInput>(path);
        if (is_vcd(*input)) return std::make_unique<VcdSource>(file, std::move(input), options);
        return std::make_unique<CsvSource>(file, std::move(input), options);
    });
}

} // namespace winkhold::host
