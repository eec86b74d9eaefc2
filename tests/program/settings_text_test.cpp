// The decoder's settings by name and text.
#include "winkhold/base/error.hpp"
#include "winkhold/base/settings_text.hpp"

#include <gtest/gtest.h>
#include <string>

namespace {

using namespace winkhold;

TEST(SettingsText, EveryDefaultReadsBackAsItIsShownButForSpaces) {
    for (const host::NamedSetting& named : host::named_settings) {
        const std::string shown = host::value_text(core::Settings{}, named.name);
        std::string typed = shown;
        std::erase(typed, ' ');
        core::Settings settings{};
        host::set_by_name(settings, named.name, typed, named.name);
        EXPECT_EQ(host::value_text(settings, named.name), shown) << named.name;
    }
}

TEST(SettingsText, EveryWordIsTakenAndShownAgain) {
    for (const host::NamedSetting& named : host::named_settings)
        for (const std::string_view word : named.words) {
            core::Settings settings{};
            host::set_by_name(settings, named.name, word, named.name);
            EXPECT_EQ(host::value_text(settings, named.name), word) << named.name;
        }
}

TEST(SettingsText, AnotherWordIsRefusedWithTheNearest) {
    core::Settings settings{};
    try {
        host::set_by_name(settings, "hold_rule", "pased", "a.toml:3: [decoder] hold_rule");
        FAIL() << "taken";
    } catch (const host::InputError& refused) {
        EXPECT_STREQ(refused.what(), "a.toml:3: [decoder] hold_rule \"pased\": write fixed or paced; "
                                     "did you mean 'paced'?");
    }
}

} // namespace
