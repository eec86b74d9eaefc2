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
    /// Column or signal of each side; unset: "left"/"right" (else "left_v"/"right_v"); "none": not recorded,
    /// the side stays low. A VCD vector's bit is written "name[2]", numbered as the vector's range is. Scopes
    /// may lead, as in "top.name"; they may be left out as long as one signal is meant. The other taps are
    /// "brake", "tail" and "supply" (else with "_v"), where the recording has them.
    std::optional<std::string> left{};
    std::optional<std::string> right{};
    /// False: a low level means lit. Left and right only; a side not recorded stays low.
    bool active_high{true};
    /// Thresholds for CSV columns in volts (name ends in "_v") and real VCD signals. Unit: V, finite, off <=
    /// on. A tap goes high above the one and low below the other. Between them it stays as it was; at first
    /// it is low.
    double on_above_v{5.0};
    double off_below_v{3.5};
};

/// Opens `path` ("-": standard input) as CSV or VCD, told apart by content. The file streams; memory stays
/// flat however long it is, and a line may be 1 MiB long. Throws InputError (file:line, what, what to do)
/// here or from next(), which may come before edges ahead of the bad place have been returned.
///
/// CSV: the header names one of time_us, time_ms or time_s; each row holds from its time on, rounded to 1 us.
/// Levels are 0 or 1. The first row is an edge, then every row that changes a tap; times may be equal, but
/// not go back.
///
/// VCD: times are rounded down to 1 us. The changes behind one time stamp make one edge; the first time stamp
/// always makes one. x and z leave a tap as it was.
///
/// Times are from 0 to `latest_us`.
std::unique_ptr<EdgeSource> open_recording(const std::string& path, const RecordingOptions& options);

/// Writes the columns time_us, left and right, and those of the other taps that are ever high. A row for each
/// edge follows, from time 0 to `trace.end_us`, so that reading it gives the same trace.
void write_csv(std::ostream& out, const Trace& trace);

/// Writes a value change dump with the same taps as signals of the scope "winkhold", in ticks of 1 us. The
/// same trace gives the same bytes.
void write_vcd(std::ostream& out, const Trace& trace);

} // namespace winkhold::host
