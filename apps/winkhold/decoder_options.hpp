/// `--settle` and the other decoder settings, and `--settings FILE.toml`.
#pragma once

#include "command.hpp"

#include "winkhold/base/settings_text.hpp"

#include <map>

namespace winkhold::app {

class DecoderOptions {
public:
    void add_to(Command& command);
    bool any_given() const;
    /// The given text of an option, by its TOML name; empty if it was not given.
    const std::string& text(const std::string& name) const { return texts_.at(name); }
    /// `base`, then the settings file, then each option; not yet checked. `--hold` without `--hold-rule` asks
    /// for that hold and nothing shorter: fixed, and no cut-short unless that is given too. `--guard` without
    /// `--hold-rule` and `--hold` means paced. A sweep leaves grids (texts with a ':') to itself.
    core::Settings over(const core::Settings& base, bool leave_grids = false) const;

private:
    std::map<std::string, std::string, std::less<>> texts_;
    std::string file_;
};

} // namespace winkhold::app
