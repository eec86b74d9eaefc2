// The papers as other programs read them.
#include "wiring/bike.hpp"

#include <nlohmann/json.hpp>

namespace winkhold::testing {
namespace {

using nlohmann::json;

/// What Python's csv module makes of it, strictly: a list of rows.
json read_by_python(const Scratch& scratch, const std::string& csv) {
    const std::string file = scratch.write("sheet.csv", csv);
    const std::string script = scratch.write(
        "read.py", "import csv, json, sys\n"
                   "rows = csv.reader(open(sys.argv[1], newline='', encoding='utf-8'), strict=True)\n"
                   "json.dump(list(rows), open(sys.argv[2], 'w'))\n");
    const std::string command = "python3 '" + script + "' '" + file + "' '" + scratch.path("rows.json") + "'";
    EXPECT_EQ(std::system(command.c_str()), 0) << "python3 is needed";
    return json::parse(scratch.read("rows.json"));
}

/// Rows as objects, by the first one; every row must be as long as that.
std::vector<json> by_head(const json& rows) {
    std::vector<json> records;
    for (std::size_t i = 1; i < rows.size(); ++i) {
        EXPECT_EQ(rows[i].size(), rows[0].size()) << rows[i];
        json record;
        for (std::size_t column = 0; column < rows[0].size(); ++column)
            record[rows[0][column].get<std::string>()] = rows[i][column];
        records.push_back(record);
    }
    return records;
}

std::vector<json> only(const std::vector<json>& records, const std::string& row) {
    std::vector<json> picked;
    for (const json& record : records)
        if (record["row"] == row) picked.push_back(record);
    return picked;
}

const Edits awkward{
    {"label = \"ST\"", "label = \"S,\\\"T\\\"\\nline two\""},
    {"name = \"Test bike\"", "name = \"Test | `bike` *1*\"\nkind = \"motorcycle\"\nplace = \"un-ece\""},
    {"[\"1\", \"2\"]", "[\"=1\", \"ü\"]"},
    {"", "\n[[measured]]\nwhat = \"left-rate-per-min\"\nvalue = 85\nnote = \"warm, \\\"idle\\\"\"\n"}};

TEST(WiringCsv, ReadBackByPythonSaysWhatTheJsonSays) {
    const Scratch scratch;
    const std::string file = scratch.write("a.toml", bike_with(awkward));
    const json sheet = json::parse(scratch.run("wiring " + file + " --json").out);
    const Ran csv = scratch.run("wiring " + file + " --csv");
    EXPECT_EQ(csv.exit_code, 0) << csv.err;
    const auto wires = only(by_head(read_by_python(scratch, csv.out)), "wire");
    ASSERT_EQ(wires.size(), sheet["wires"].size());
    ASSERT_EQ(wires.size(), 13u);
    for (std::size_t i = 0; i < wires.size(); ++i) {
        EXPECT_EQ(wires[i]["label"], sheet["wires"][i]["label"]);
        const std::string cavity = sheet["wires"][i]["cavity"]; // one begins like a formula
        EXPECT_EQ(wires[i]["cavity"], (cavity.starts_with('=') ? "'" : "") + cavity);
        const std::string ma = wires[i]["current_ma"];
        const json& expected = sheet["wires"][i]["current_ma"];
        EXPECT_EQ(ma.empty() ? json() : json(std::stod(ma)), expected) << wires[i];
    }
    EXPECT_EQ(wires[12]["label"], "S,\"T\"\nline two");
}

TEST(ChecklistCsv, ReadBackByPythonSaysWhatTheJsonSays) {
    const Scratch scratch;
    const std::string file = scratch.write("a.toml", bike_with(awkward));
    const json record = json::parse(scratch.run("checklist " + file + " --json").out);
    const auto rows = by_head(read_by_python(scratch, scratch.run("checklist " + file + " --csv").out));
    const auto points = only(rows, "point");
    ASSERT_EQ(points.size(), record["points"].size());
    for (std::size_t i = 0; i < points.size(); ++i) {
        EXPECT_EQ(points[i]["id"], record["points"][i]["id"]);
        EXPECT_EQ(points[i]["standing"], record["points"][i]["standing"]);
        EXPECT_EQ(points[i]["text"], record["points"][i]["task"]);
        if (points[i]["id"] != "left-rate-per-min") continue;
        EXPECT_EQ(points[i]["value"], "85");
        EXPECT_EQ(points[i]["least"], "60");
        EXPECT_EQ(points[i]["most"], "120");
        EXPECT_EQ(points[i]["note"], "warm, \"idle\"");
    }
    EXPECT_EQ(only(rows, "setting").size(), record["settings"].size());
    EXPECT_EQ(only(rows, "restore").size(), record["restore"].size());
    EXPECT_EQ(only(rows, "file")[0]["value"], record["files"][0]["crc32"]);
}

TEST(ChecklistJson, NamesTheFileByTheCrcThatPythonFinds) {
    const Scratch scratch;
    const std::string file = scratch.write("a.toml", bike_with({}));
    const std::string out = scratch.path("crc");
    ASSERT_EQ(std::system(("python3 -c \"import zlib; print('%08x' % zlib.crc32(open('" + file +
                           "','rb').read()), end='')\" >" + out)
                              .c_str()),
              0);
    const json record = json::parse(scratch.run("checklist " + file + " --json").out);
    EXPECT_EQ(record["schema"], "winkhold.checklist/2");
    EXPECT_EQ(record["files"][0]["path"], file);
    EXPECT_EQ(record["files"][0]["crc32"], scratch.read("crc"));
}

/// Cells of a row of a table: '|' with a backslash before it belongs to a cell.
int cells_of(const std::string& row) {
    int bars = 0;
    for (std::size_t i = 0; i < row.size(); ++i)
        if (row[i] == '\\')
            ++i;
        else if (row[i] == '|')
            ++bars;
    return bars - 1;
}

TEST(Markdown, TablesHaveARuleUnderTheHeadAndRowsOfOneLength) {
    const Scratch scratch;
    const std::string file = scratch.write("a.toml", bike_with(awkward));
    for (const char* command : {"wiring ", "checklist "}) {
        const Ran ran = scratch.run(command + file + " --markdown");
        EXPECT_EQ(ran.exit_code, command[0] == 'c' ? 1 : 0) << ran.err; // a checklist is open
        EXPECT_NE(ran.out.find("Test \\| \\`bike\\` \\*1\\*"), std::string::npos) << ran.out;
        std::istringstream lines(ran.out);
        int length = 0;
        int row = 0;
        int tables = 0;
        for (std::string line; std::getline(lines, line);) {
            if (line.empty() || line[0] != '|') {
                row = 0;
                continue;
            }
            if (row == 0) {
                length = cells_of(line);
                ++tables;
            } else if (row == 1) {
                EXPECT_EQ(line.find_first_not_of("|-"), std::string::npos) << line;
            }
            EXPECT_EQ(line.back(), '|') << line;
            EXPECT_EQ(cells_of(line), length) << line;
            ++row;
        }
        EXPECT_GE(tables, 2) << command;
        EXPECT_NE(ran.out.find("keep the factory tell-tales"), std::string::npos) << "the caution is missing";
    }
}

TEST(DemoVehicle, HasAllItsLampsWiredAndNothingWrong) {
    const Scratch scratch;
    const Ran ran = scratch.run("wiring data/vehicles/demo.toml --json");
    EXPECT_EQ(ran.exit_code, 0) << ran.err;
    const json sheet = json::parse(ran.out);
    EXPECT_EQ(sheet["findings"], json::array());
    EXPECT_EQ(sheet["warnings"], json::array());
    EXPECT_EQ(sheet["not_judged"], json::array());
    int outputs = 0; // a wire back from each of 24 turn lamps, one from each group behind a transistor
    for (const json& wire : sheet["wires"])
        outputs += wire["from"]["kind"] == "lamps" ? 1 : 0;
    EXPECT_EQ(outputs, 24 + 3);
}

TEST(DemoVehicle, HasNothingMeasuredSoThatNobodyInheritsAPass) {
    const Scratch scratch;
    const json record = json::parse(scratch.run("checklist data/vehicles/demo.toml --json").out);
    EXPECT_EQ(record["open"], record["points"].size());
}

} // namespace
} // namespace winkhold::testing
