/// The words of several rooms, printed by two units that are compiled apart: what one word means must not
/// depend on which of them was linked first.
#pragma once

#include <string>
#include <vector>

namespace winkhold::testing {

std::vector<std::string> words_unoptimised();
std::vector<std::string> words_optimised();

} // namespace winkhold::testing
