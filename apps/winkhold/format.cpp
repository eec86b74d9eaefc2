#include "format.hpp"

#include "output.hpp"

#include <algorithm>

namespace winkhold::app {
namespace {

struct Named {
    const char* option;
    const char* help;
};

constexpr Named formats[] = {{"", ""},
                             {"--json", "write JSON (schema in data/schemas)"},
                             {"--csv", "write CSV (RFC 4180)"},
                             {"--markdown", "write Markdown"},
                             {"--tap", "write TAP, the Test Anything Protocol"}};

const Named& named(Format format) {
    return formats[static_cast<std::size_t>(format)];
}

} // namespace

void FormatChoice::add_to(Command& command, std::initializer_list<Format> beside_text) {
    for (const Format format : beside_text) {
        Option& option =
            command.flag(named(format).option, asked_[static_cast<std::size_t>(format)], named(format).help);
        for (const Format other : beside_text)
            if (other != format) option.excludes.emplace_back(named(other).option);
    }
}

Format FormatChoice::chosen() const {
    const auto asked = std::find(asked_.begin(), asked_.end(), true);
    return asked == asked_.end() ? Format::text : static_cast<Format>(asked - asked_.begin());
}

host::Format FormatChoice::streamed() const {
    return chosen() == Format::json  ? host::Format::json
           : chosen() == Format::csv ? host::Format::csv
                                     : host::Format::text;
}

void FormatChoice::print(const Forms& forms) const {
    const std::function<std::string()>* const all[] = {&forms.text, &forms.json, &forms.csv, &forms.markdown,
                                                       &forms.tap};
    Output::print((*all[static_cast<std::size_t>(chosen())])());
}

void FormatChoice::tell_beside_csv(const std::string& notice) const {
    if (chosen() == Format::csv && !notice.empty()) fmt::print(stderr, "{}\n", notice);
}

} // namespace winkhold::app
