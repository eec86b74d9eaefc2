/// `winkhold decode`: a recording's answer, written as it is read.
#pragma once

#include "winkhold/taps/trace/trace.hpp"

#include "winkhold/core/settings.hpp"

#include <iosfwd>
#include <string>

namespace winkhold::taps {

/// How the answer is written: for people, as JSON, or as CSV.
enum class Format { text, json, csv };

/// Decodes `source` and writes the answer to `out`. JSON and CSV are written while the recording is read; the
/// text draws strips and lists the first changes. Memory does not grow with the recording's length.
/// `name` heads the text. Throws InputError from the source.
void write_decoded(std::ostream& out, EdgeSource& source, const core::Settings& settings, Format format,
                   const std::string& name);

} // namespace winkhold::taps
