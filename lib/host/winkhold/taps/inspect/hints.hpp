/// What an inspection would say beside the decoder's answer.
#pragma once

#include "winkhold/taps/inspect/inspect.hpp"

#include <string>
#include <vector>

namespace winkhold::taps {

/// Why the answer may not be what somebody hopes for, given these settings, and what to do; one sentence or
/// two each. None for a recording that suits the settings.
std::vector<std::string> hints_of(const Inspection& seen, const core::Settings& settings);

/// A hint for standard error, at most 80 columns wide, led by the recording's name.
std::string hint_text(const std::string& recording, const std::string& hint);

/// Passes on a source's edges and looks at those of its first hour, so memory stays flat.
class InspectedSource : public EdgeSource {
public:
    /// `source` must outlive it.
    explicit InspectedSource(EdgeSource& source) : source_(source), inspector_(Inspector::Watch::left_out) {}

    bool next(Edge& edge) override;
    TimeUs end_us() const override { return source_.end_us(); }
    std::vector<Caveat> caveats() const override { return source_.caveats(); }

    /// After next() returned false, once. None if there were no edges.
    std::vector<std::string> hints(const core::Settings& settings);

private:
    EdgeSource& source_;
    Inspector inspector_;
    TimeUs start_us_{-1}; ///< of the first edge
    TimeUs until_us_{0};  ///< looked at so far
};

} // namespace winkhold::taps
