/// The regression suite: every case of a folder decoded and compared.
#pragma once

#include "winkhold/taps/verify/case.hpp"
#include "winkhold/taps/verify/difference.hpp"

namespace winkhold::taps {

/// How a case ended.
enum class Outcome {
    passed,
    differs,
    refused, ///< bad input: nothing can be said
};

/// One case, decoded and compared.
struct CaseResult {
    FoundCase found;
    Outcome outcome{Outcome::passed};
    VerifyCase read;                      ///< as far as it could be read
    Timeline answer;                      ///< empty if the recording could not be read
    std::optional<Difference> difference; ///< set if `outcome` is differs
    Trace trace;                          ///< kept if `outcome` is differs, to show where
    std::string complaint;                ///< set if `outcome` is refused
};

/// All cases of a folder.
struct VerifyRun {
    std::string folder;
    std::vector<CaseResult> results; ///< by name; at least one

    /// How many cases ended so.
    std::size_t count(Outcome outcome) const;
};

/// Decodes each case. One that can't be read is refused, and the others go on. Throws InputError as
/// find_cases().
VerifyRun verify_cases(const std::string& folder);

/// Writes the answer of each case that didn't pass beside what is expected, as expected.candidate.csv, for a
/// person to look at and to rename; an older candidate is replaced if `replace`. What is expected is never
/// written. Returns the paths. Throws InputError if one can't be written.
std::vector<std::string> write_candidates(const VerifyRun& run, bool replace);

} // namespace winkhold::taps
