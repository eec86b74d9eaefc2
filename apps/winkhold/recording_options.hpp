/// `--left` and the other options that say how to read a recording.
#pragma once

#include "command.hpp"

#include "winkhold/taps/capture/recording.hpp"

namespace winkhold::app {

class RecordingOptions {
public:
    RecordingOptions();
    void add_to(Command& command);
    std::unique_ptr<host::EdgeSource> open(const std::string& path) const;
    using OnVolts = decltype(host::RecordingOptions::on_volts);
    /// `on_volts` hears the voltages as they are read.
    std::unique_ptr<host::EdgeSource> open_hearing(const std::string& path, const OnVolts& on_volts) const;

private:
    host::RecordingOptions options_;
    std::string active_;
    std::string on_above_;
    std::string off_below_;
    std::string rate_;
    std::string change_;
};

/// Says on standard error what the recording can't tell.
void tell_caveats(const std::string& path, const host::EdgeSource& source);

/// Losses of a recording that count as findings.
std::size_t count_losses(const host::EdgeSource& source);

} // namespace winkhold::app
