// Value change dumps: the format is that of IEEE 1364-2001, chapter 18 (from memory).
#include "temp.hpp"
#include "winkhold/base/text/detail/vcd_writer.hpp"
#include "winkhold/taps/capture/recording.hpp"

#include <set>
#include <sstream>

namespace winkhold::testing {
namespace {

using base::VcdWriter;

TEST(VcdWriter, WritesScopesSignalsAndOnlyWhatChanges) {
    std::ostringstream out;
    {
        VcdWriter vcd(out);
        const auto left = vcd.add_signal("left");
        vcd.open_scope("lamps");
        const auto lamp = vcd.add_signal("lamp_1", 8);
        vcd.close_scope();
        vcd.end_head();
        vcd.first_values(0, std::vector<unsigned>{1, 5});
        vcd.set(100, left, 1);
        vcd.set(100, lamp, 5);
        vcd.set(200, left, 0);
        vcd.set(200, lamp, 255);
        vcd.set(300, lamp, 0);
        vcd.finish(1'000);
    }
    EXPECT_EQ(out.str(), "$timescale 1 us $end\n$scope module winkhold $end\n"
                         "$var wire 1 ! left $end\n$scope module lamps $end\n"
                         "$var wire 8 \" lamp_1 [7:0] $end\n$upscope $end\n$upscope $end\n"
                         "$enddefinitions $end\n"
                         "#0\n$dumpvars\n1!\nb00000101 \"\n$end\n"
                         "#200\n0!\nb11111111 \"\n#300\nb00000000 \"\n#1000\n");
}

TEST(VcdWriter, LeavesOutLeadingZerosButNeverTheLastDigit) {
    std::ostringstream out;
    VcdWriter vcd(out, VcdWriter::Zeros::left_out);
    const auto lamp = vcd.add_signal("lamp", 8, "x");
    vcd.end_head();
    vcd.set(7, lamp, 0);
    vcd.set(8, lamp, 6);
    vcd.finish(8);
    EXPECT_EQ(out.str().substr(out.str().find('#')), "#7\nb0 x\n#8\nb110 x\n");
}

TEST(VcdWriter, GivesEachOfManySignalsAPrintableCodeOfItsOwn) {
    std::ostringstream out;
    VcdWriter vcd(out);
    constexpr int many = 10'000;
    for (int i = 0; i < many; ++i)
        vcd.add_signal("lamp");
    vcd.end_head();
    vcd.finish(0);
    std::set<std::string> codes;
    std::istringstream lines(out.str());
    for (std::string word; lines >> word;) {
        if (word != "$var") continue;
        std::string type, width, code;
        lines >> type >> width >> code;
        EXPECT_TRUE(std::all_of(code.begin(), code.end(), [](char c) { return c >= '!' && c <= '~'; }));
        codes.insert(code);
    }
    EXPECT_EQ(codes.size(), static_cast<std::size_t>(many));
}

TEST(VcdWriter, TheOwnReaderFindsEdgesAndEndAgain) {
    std::ostringstream out;
    VcdWriter vcd(out);
    const auto left = vcd.add_signal("left");
    const auto right = vcd.add_signal("right");
    vcd.end_head();
    vcd.first_values(0, std::vector<unsigned>{0, 0});
    vcd.set(10, left, 1);
    vcd.set(20, left, 0);
    vcd.set(20, right, 1);
    vcd.finish(50);
    const TempFolder folder;
    const auto source = taps::open_recording(folder.write("a.vcd", out.str()), {});
    std::vector<std::pair<base::TimeUs, unsigned>> edges;
    for (taps::Edge edge; source->next(edge);)
        edges.emplace_back(edge.t_us, edge.lines.bits());
    EXPECT_EQ(edges, (std::vector<std::pair<base::TimeUs, unsigned>>{{0, 0}, {10, 1}, {20, 2}}));
    EXPECT_EQ(source->end_us(), 50);
}

} // namespace
} // namespace winkhold::testing
