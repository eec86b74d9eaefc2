/// Options that several subcommands share.
#pragma once

#include "winkhold/host/capture/recording.hpp"
#include "winkhold/host/progress.hpp"
#include "winkhold/host/report/decode_report.hpp"
#include "winkhold/host/settings_text.hpp"

#include <CLI/CLI.hpp>
#include <map>
#include <ostream>
#include <string>

namespace winkhold::app {

/// `--settle` and the other decoder options, and `--settings FILE.toml`.
class DecoderOptions {
public:
    void add_to(CLI::App& command);
    /// The given text of an option, by its TOML name; empty if it was not given.
    const std::string& text(const std::string& name) const;
    /// `base`, then the settings file, then each option; not yet checked. `--hold` without `--hold-rule` asks
    /// for that hold and nothing shorter: fixed, and no cut-short unless that is given too. `--guard` without
    /// `--hold-rule` and `--hold` means paced. A sweep leaves grids (texts with a ':') to itself.
    core::Settings over(const core::Settings& base, bool leave_grids = false) const;

private:
    std::map<std::string, std::string, std::less<>> texts_;
    std::string file_;
};

/// `--left` and the other options that say how to read a recording.
class RecordingChoice {
public:
    void add_to(CLI::App& command);
    std::unique_ptr<host::EdgeSource> open(const std::string& path) const;
    /// With both thresholds at `volts`, whatever the options say.
    std::unique_ptr<host::EdgeSource> open_at(const std::string& path, double volts) const;

private:
    host::RecordingOptions named() const;

    host::RecordingOptions options_;
    std::string active_{"high"};
    std::string on_above_{"5V"};
    std::string off_below_{"3.5V"};
    std::string rate_;
    std::string change_{"25%"};
};

/// Says on standard error what the recording can't tell.
void tell_caveats(const std::string& path, const host::EdgeSource& source);

/// `--json` and `--csv`.
class FormatChoice {
public:
    void add_to(CLI::App& command);
    host::Format format() const;

private:
    bool json_{false};
    bool csv_{false};
};

/// `--csv`, `--markdown` and `--json`, of which one may be given.
class PaperChoice {
public:
    void add_to(CLI::App& command);

    template <class What, class Write>
    std::string of(const What& what, Write* text, Write* csv, Write* markdown, Write* json) const {
        return (json_ ? json : markdown_ ? markdown : csv_ ? csv : text)(what);
    }

private:
    bool csv_{false};
    bool markdown_{false};
    bool json_{false};
};

/// `--threads N`; 0 if it was not given.
void add_threads(CLI::App& command, int& threads);
/// All cores for 0.
int threads_or_all(int threads);

/// Told on standard error if that is a terminal: "12 of 81 cells".
host::Progress progress_of(const char* what);

/// `--out`: throws host::InputError unless the name ends in one of `endings`, which say the format, and is
/// not that of the `input`, which would be written over while it is read.
void check_out_file(const std::string& out, const std::string& input,
                    std::initializer_list<std::string_view> endings);

/// A file to write, or standard output for "-". Throws host::InputError if it can't be opened; finish()
/// throws if not everything could be written.
class Output {
public:
    explicit Output(const std::string& path);
    ~Output();
    std::ostream& stream();
    void finish();

private:
    std::string path_;
    std::unique_ptr<std::ostream> file_;
};

} // namespace winkhold::app
