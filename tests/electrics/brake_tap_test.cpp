// How late the stop lamps are by the brake tap's network, as `winkhold limits` judges it.
#include "program/run.hpp"

#include <cmath>
#include <fmt/format.h>
#include <fstream>
#include <iterator>
#include <nlohmann/json.hpp>

namespace winkhold::testing {
namespace {

std::string demo() {
    std::ifstream file(WINKHOLD_SOURCE "/data/vehicles/demo.toml");
    return {std::istreambuf_iterator<char>(file), {}};
}

std::string replaced(const std::string& text, const std::string& was, const std::string& now) {
    const std::size_t at = text.find(was);
    EXPECT_NE(at, std::string::npos) << was;
    return at == std::string::npos ? text : text.substr(0, at) + now + text.substr(at + was.size());
}

nlohmann::json stop_delay(const Scratch& scratch, const std::string& text) {
    const Ran ran = scratch.run("limits " + scratch.write("a.toml", text) + " --trials 1 --json");
    const auto json = nlohmann::json::parse(ran.out);
    for (const auto& limit : json["limits"])
        if (limit["id"] == "any-place.stop-lamp-delay") return limit;
    ADD_FAILURE() << ran.out << ran.err;
    return {};
}

/// tau ln(Vf / (Vf - VT+)) with the demo's parts at the slow ends of their tolerances, on 9 V (textbook).
double slowest_ms(double nf) {
    const auto gain = [](double top, double bottom) { return bottom / (top + bottom); };
    const double nominal = gain(120, 47);
    const double threshold_v = 5.0 * nominal * 1.02 + 2 * 5.1 / 1024;
    double slowest = 0;
    for (const double top : {118.8e3, 120e3, 121.2e3})
        for (const double bottom : {46.53e3, 47e3, 47.47e3}) {
            const double share = gain(top, bottom);
            slowest = std::max(slowest, top * share * nf * 1.1e-9 *
                                            std::log(9 * share / (9 * share - threshold_v)) * 1e3);
        }
    return slowest + 1; // looked at each ms
}

TEST(BrakeTap, ALargeCapacitorBreaksTheStopLampsLimit) {
    const Scratch scratch;
    const auto broken = stop_delay(scratch, replaced(demo(), "capacitor_nf = 22 ", "capacitor_nf = 2200 "));
    EXPECT_EQ(broken["ruling"], "broken") << broken;
    EXPECT_NEAR(broken["value"].get<double>(), 5 + slowest_ms(2'200), 0.1);
    const auto kept = stop_delay(scratch, demo());
    EXPECT_EQ(kept["ruling"], "kept") << kept;
    EXPECT_NEAR(kept["value"].get<double>(), 5 + slowest_ms(22), 0.1);
    EXPECT_LT(5 + slowest_ms(330), 20);
    EXPECT_EQ(stop_delay(scratch, replaced(demo(), "capacitor_nf = 22 ", "capacitor_nf = 330 "))["ruling"],
              "kept");
    EXPECT_GT(5 + slowest_ms(470), 20);
    EXPECT_EQ(stop_delay(scratch, replaced(demo(), "capacitor_nf = 22 ", "capacitor_nf = 470 "))["ruling"],
              "broken");
}

TEST(BrakeTap, ANetworkThatIsNotKnownIsNotJudged) {
    const Scratch scratch;
    const std::string all = demo();
    const std::string empty =
        all.substr(0, all.find("[front_end]")) + "[front_end]\n" + all.substr(all.find("[board]"));
    const auto none = stop_delay(scratch, empty);
    EXPECT_EQ(none["ruling"], "not judged") << none;
    EXPECT_NE(none["why"].get<std::string>().find("enter [front_end]"), std::string::npos) << none;
    const auto one = stop_delay(scratch, replaced(demo(), "active_brake = \"high\"\n", ""));
    EXPECT_EQ(one["ruling"], "not judged") << one;
    EXPECT_NE(one["why"].get<std::string>().find("active_brake"), std::string::npos) << one;
    for (const char* command : {"simulate", "sweep", "sequence"})
        EXPECT_NE(scratch.run(std::string(command) + " " + scratch.path("a.toml")).exit_code, 2);
    scratch.write("b.toml", empty);
    for (const char* command : {"simulate", "sweep", "sequence"})
        EXPECT_NE(scratch.run(std::string(command) + " " + scratch.path("b.toml")).exit_code, 2) << command;
}

} // namespace
} // namespace winkhold::testing
