#include "decoder_options.hpp"

#include "winkhold/base/vehicle/decoder_section.hpp"

#include <algorithm>

namespace winkhold::app {
namespace {

std::string option_name(std::string_view setting) {
    std::string name = "--" + std::string(setting);
    std::replace(name.begin(), name.end(), '_', '-');
    return name;
}

/// The core's own, as it would be typed: "5ms".
std::string default_of(std::string_view setting) {
    std::string value = host::value_text(core::Settings{}, setting);
    std::erase(value, ' ');
    return value;
}

} // namespace

void DecoderOptions::add_to(Command& command) {
    for (const host::NamedSetting& named : host::named_settings) {
        std::string& text = texts_[std::string(named.name)];
        const std::string name = option_name(named.name);
        const std::string help(named.help);
        Option& option = named.words.empty()
                             ? command.text(name, "TIME", text, help)
                             : command.word(name, {named.words.begin(), named.words.end()}, text, help);
        option.shown_as_default(default_of(named.name)).section = "Decoder";
    }
    command.text("--settings", "FILE", file_, "settings from the [decoder] section of this TOML file")
        .reading(Reads::vehicle)
        .section = "Decoder";
}

bool DecoderOptions::any_given() const {
    return !file_.empty() ||
           std::any_of(texts_.begin(), texts_.end(), [](const auto& named) { return !named.second.empty(); });
}

core::Settings DecoderOptions::over(const core::Settings& base, bool leave_grids) const {
    core::Settings settings = file_.empty() ? base : host::read_settings(file_, base);
    if (text("hold_rule").empty() && !text("hold").empty()) {
        settings.rule = core::HoldRule::fixed;
        settings.cut_short = false;
    } else if (text("hold_rule").empty() && !text("guard").empty()) {
        settings.rule = core::HoldRule::paced;
    }
    for (const auto& [name, text] : texts_)
        if (!text.empty() && !(leave_grids && text.find(':') != std::string::npos))
            host::set_by_name(settings, name, text, option_name(name));
    return settings;
}

} // namespace winkhold::app
