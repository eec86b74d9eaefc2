/// Recordings in and out: CSV (RFC 4180), VCD (IEEE 1364), WAV (RIFF PCM), raw logic samples, recorder logs.
#pragma once

#include "winkhold/taps/trace/trace.hpp"

#include <cstdint>
#include <functional>
#include <iosfwd>
#include <memory>
#include <optional>
#include <string>

namespace winkhold::taps {

/// How to find the taps in a recording and how to read them.
struct RecordingOptions {
    /// Column or signal of each side; unset: "left"/"right" (else "left_v"/"right_v"); "none": not recorded,
    /// the side stays low. A VCD vector's bit is written "name[2]", numbered as the vector's range is. Scopes
    /// may lead, as in "top.name"; they may be left out as long as one signal is meant. A CSV column is
    /// called by its name with or without its unit.
    std::optional<std::string> left{};
    std::optional<std::string> right{};
    /// The other taps, in the same way; unset: "brake", "tail" and "supply" (else with "_v"), where the
    /// recording has them. One that is there unasked and can't be read is left out; a caveat says so.
    std::optional<std::string> brake{};
    std::optional<std::string> tail{};
    std::optional<std::string> supply{};
    /// CSV: the column with the time; unset: the one with a unit of time, or called "time".
    std::optional<std::string> time{};
    /// CSV and VCD: "s", "ms", "us" or "ns" that times count, whatever the file says. Unset: as it says.
    std::optional<std::string> time_unit{};
    /// False: a low level means lit. Left and right only; a side not recorded stays low.
    bool active_high{true};
    /// Thresholds for CSV columns in volts and real VCD signals. Unit: V, finite, off <= on. A tap goes high
    /// above the one and low below the other. Between them it stays as it was; at first it is low.
    double on_above_v{5.0};
    double off_below_v{3.5};
    /// CSV: numbers have a decimal comma, and semicolons or tabs stand between the columns. False: they have
    /// one if it is the first mark that is met.
    bool decimal_comma{false};
    /// Set: the file holds raw logic samples, one byte each, taken at this rate. Unit: Hz, from 1 to 1e9.
    std::optional<std::int64_t> sample_rate_hz{};
    /// WAV: a line rises or falls where the sound changes by more than this within `sound_window_us`. Unit:
    /// share of full scale, above 0, below 2. A square wave of half full scale passes, 25 Hz hum does not.
    double sound_change{0.25};
    /// Set: hears each voltage of a tap as it is read, ahead of the edge that it may make. Reading is slower.
    std::function<void(TimeUs t_us, core::Lines::Tap tap, double volts)> on_volts{};
};

/// Changes of a sound are taken over this time: longer than the slowest fall of a lamp line that still has
/// to be seen (10 ms time constant: two fifths of it), shorter than what a sound input needs to droop.
inline constexpr TimeUs sound_window_us = 5'000;

/// Opens `path` ("-": standard input); with a sample rate as raw logic samples, else the format is told by
/// content. The file streams; memory stays flat however long it is, and a line may be 1 MiB long. Throws
/// InputError (file:line, what, what to do) here or from next(), which may come before edges ahead of the bad
/// place have been returned.
///
/// CSV: the line that names the columns is the first in which all names asked for stand; what is ahead of it
/// is passed over, but for the sample rate and units. The time is a column with a unit, one called "time", a
/// count of samples, or nothing but the rate. Commas, semicolons or tabs stand between the columns. Each row
/// holds from its time on, rounded to 1 us; times that begin below zero count from the first row, and a
/// caveat says so. Levels are 0 or 1; a column is in volts by its name ("left_v", "CH1 (V)"), by a row of
/// units, or by numbers that are no levels, and a caveat says so. The first row is an edge, then every row
/// that changes a tap; times may be equal, but not go back. Empty rows don't count.
///
/// VCD: times are rounded down to 1 us. The changes behind one time stamp make one edge; the first time stamp
/// always makes one. Of the nine states L is 0 and H is 1; the others but 0 and 1 (not known, not driven)
/// leave a tap as it was; a caveat counts them.
///
/// WAV: 8 to 32 bit or floating-point samples; the sides are called "left" and "right", or by the number of
/// their channel from "1" on. A sound input passes changes and no levels, so changes are what is decoded: all
/// lines are dark at first. Not from a pipe.
///
/// Raw logic samples: a tap is bit "0" to "7" of each byte; unset, left is bit 0 and right bit 1.
///
/// Recorder log: text of this project's recorder firmware, described in capture/recorder_source.hpp.
///
/// Times are from 0 to `latest_us`.
std::unique_ptr<EdgeSource> open_recording(const std::string& path, const RecordingOptions& options);

/// Writes the columns time_us, left and right, and those of the other taps that are ever high. A row for each
/// edge follows, from time 0 to `trace.end_us`, so that reading it gives the same trace.
void write_csv(std::ostream& out, const Trace& trace);

/// Writes a value change dump with the same taps as signals of the scope "winkhold", in ticks of 1 us. The
/// same trace gives the same bytes.
void write_vcd(std::ostream& out, const Trace& trace);

} // namespace winkhold::taps
