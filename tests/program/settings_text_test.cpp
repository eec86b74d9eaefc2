// What the help says of settings.
#include "winkhold/host/settings_text.hpp"

#include <gtest/gtest.h>
#include <string>

namespace {

using namespace winkhold;

TEST(SettingsText, TheDefaultsThatHelpNamesAreThoseOfTheCore) {
    for (const host::NamedSetting& named : host::named_settings) {
        const std::string help(named.help);
        const std::size_t from = help.find("(default ");
        ASSERT_NE(from, std::string::npos) << named.name;
        const std::size_t begin = from + 9;
        const std::string said = help.substr(begin, help.find_first_of(":)", begin) - begin);
        core::Settings settings{};
        host::set_by_name(settings, named.name, said, named.name);
        EXPECT_EQ(host::value_text(settings, named.name), host::value_text(core::Settings{}, named.name))
            << named.name << ": " << said;
    }
}

} // namespace
