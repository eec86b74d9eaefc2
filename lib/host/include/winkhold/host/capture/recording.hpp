/// Recordings in and out: CSV (RFC 4180) and VCD (IEEE 1364).
#pragma once

#include "winkhold/host/trace/trace.hpp"

#include <iosfwd>
#include <memory>
#include <optional>
#include <string>

namespace winkhold::host {

/// How to find the taps in a recording and how to read them.
struct RecordingOptions {
    /// Column or signal of each side; unset: "left"/"right" (or "left_v"/"right_v"); "none": not recorded.
    /// A VCD vector's bit is written "name[2]"; a scope may lead: "top.name".
    std::optional<std::string> left;
    std::optional<std::string> right;
    /// False: a low level means lit.
    bool active_high{true};
    /// Thresholds for columns in volts (name ends in "_v", or values that are no levels). Unit: V.
    /// Between them the level stays as it was.
    double on_above_v{5.0};
    double off_below_v{3.5};
};

/// Opens `path` ("-": standard input) as CSV or VCD, told apart by content. The file streams; memory stays flat
/// however long it is. Throws InputError (file:line, what, what to do) here or from next().
std::unique_ptr<EdgeSource> open_recording(const std::string& path, const RecordingOptions& options);

/// Writes `time_us,left,right` and the other taps the trace uses.
void write_csv(std::ostream& out, const Trace& trace);

/// Writes a value change dump with one scalar signal per tap and a 1 us timescale.
void write_vcd(std::ostream& out, const Trace& trace);

} // namespace winkhold::host
