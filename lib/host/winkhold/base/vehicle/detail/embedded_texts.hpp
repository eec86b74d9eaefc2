/// Texts of the project that the library carries along; embed.cmake makes the table.
#pragma once

#include "winkhold/base/wings.hpp"

#include <string_view>
#include <vector>

namespace winkhold::base {

struct EmbeddedText {
    std::string_view name; ///< within data/, like "vehicles/demo.toml"; else within the project
    std::string_view text;
};

const std::vector<EmbeddedText>& embedded_texts();

/// The one of that name, which must be there.
std::string_view embedded_text(std::string_view name);

} // namespace winkhold::base
