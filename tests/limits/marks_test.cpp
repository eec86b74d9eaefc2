// Every limit says where it stands and how that is known, and none claims to be read that was not.
#include "limits/support.hpp"

#include <map>

namespace {

using namespace winkhold;
using namespace winkhold::test;
using host::Mark;

constexpr const char* all_places[] = {"un-ece",         "european-union", "germany",        "switzerland",
                                      "united-kingdom", "united-states",  "new-south-wales"};

/// As the sources were seen: the publication as far as its name goes, a clause of it, and the mark.
struct Source {
    const char* publication;
    const char* clause;
    Mark mark;
};

constexpr Source sources[] = {
    {"UN R53", "6.3.8.1", Mark::quoted},  // 90 +- 30/min
    {"UN R53", "6.3", Mark::from_memory}, // start; AC supply; distances
    {"UN R53", "6.9", Mark::from_memory}, // hazard; the clause from the table of contents (read)
    {"UN R53", "6.14.7.1", Mark::quoted}, // emergency stop signal
    {"UN R148, UN R6, UN R50", "R148 00 series 5.6.11, 01 series 5.6.5; R6 5.6; R50 6.8", Mark::quoted},
    {"UN R48, UN R53", "not noted", Mark::read}, // lamp failure: no number
    {"UN R13-H", "5.2.22", Mark::quoted},
    {"VTS", "art. 79(2)", Mark::read},
    {"StVZO", "54(1)", Mark::read},
    {"StVZO", "54(1a)", Mark::read},
    {"StVZO", "54(3)", Mark::read},
    {"StVZO, as reprinted", "54(4)", Mark::quoted},
    {"EC Directive 2009/67/EC (repealed)", "as fitting sheets and inspectors' lists print it", Mark::quoted},
    {"EC type approval", "not noted", Mark::quoted},
    {"MOT inspection manual", "section 4 (1-5 before 2018)", Mark::quoted},
    {"SAE J945 (1966)", "3, as in NHTSA letters 01931ztv and GF006498", Mark::read},
    {"SAE J945", "summary", Mark::quoted},
    {"49 CFR 571.108, SAE J590", "Figure 2", Mark::from_memory},
    {"SAE J588", "not noted", Mark::read},
    {"SAE J586 in FMVSS 108", "as in an NHTSA letter", Mark::read},
    {"FMVSS 108", "Table IV, in NHTSA letters 1984-3.42 and Mills.1", Mark::read},
    {"NSW vehicle standards", "schedule 2, 113", Mark::quoted},
    {"Australian design rules, as noted in the NSW vehicle standards", "not noted", Mark::quoted},
    {"no publication", "none", Mark::common_practice},
};

TEST(Marks, NoLimitClaimsMoreThanItsSource) {
    for (const char* place : all_places)
        for (const Limit& limit : host::LimitBook::carried_along().profile(place, "motorcycle").limits) {
            const auto* const source =
                std::find_if(std::begin(sources), std::end(sources), [&](const Source& one) {
                    return limit.publication == one.publication && limit.clause == one.clause;
                });
            ASSERT_NE(source, std::end(sources))
                << limit.id << ": " << limit.publication << ", " << limit.clause;
            // timing of sequences is from memory beside geometry that is quoted, in the same clauses
            const bool weaker = source->mark == Mark::quoted && limit.mark == Mark::from_memory;
            EXPECT_TRUE(limit.mark == source->mark || weaker) << limit.id << " says " << name(limit.mark);
        }
}

TEST(Marks, R48sInPhaseIsNotForMotorcycles) {
    for (const char* place : {"un-ece", "european-union", "united-kingdom"})
        for (const Limit& limit : host::LimitBook::carried_along().profile(place, "motorcycle").limits)
            EXPECT_FALSE(limit.measure == host::LimitMeasure::side_phase && limit.only_if.empty())
                << limit.id;
}

TEST(Marks, WhatHoldsEverywhereIsToldFromWhatHoldsAtOnePlace) {
    for (const char* place : all_places)
        for (const Limit& limit : host::LimitBook::carried_along().profile(place, "motorcycle").limits)
            EXPECT_EQ(limit.everywhere, limit.id.starts_with("any-place.")) << limit.id;
}

} // namespace
