/// Texts of data/ that the library carries along; embed.cmake makes the table.
#pragma once

#include <string_view>
#include <vector>

namespace winkhold::host {

struct EmbeddedText {
    std::string_view name; ///< within data/, like "vehicles/demo.toml"
    std::string_view text;
};

const std::vector<EmbeddedText>& embedded_texts();

} // namespace winkhold::host
