/// Lists in sentences.
#pragma once

#include "winkhold/base/wings.hpp"

#include <string>
#include <string_view>

namespace winkhold::base {

/// The texts one after the other, with `between` between any two.
template <class Texts>
std::string joined(const Texts& texts, std::string_view between) {
    std::string all;
    bool first = true;
    for (const auto& text : texts) {
        if (!first) all += between;
        all += text;
        first = false;
    }
    return all;
}

} // namespace winkhold::base
