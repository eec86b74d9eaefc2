// Fields and records against RFC 4180, chapter 2 (from memory), and against what reads them back.
#include "temp.hpp"
#include "winkhold/base/text/detail/csv_writer.hpp"

#include <rapidcheck/gtest.h>
#include <sstream>

namespace winkhold::testing {
namespace {

using base::CsvWriter;

template <class... Fields>
std::string record(CsvWriter::Ends ends, const Fields&... fields) {
    std::ostringstream out;
    CsvWriter csv(out, ends);
    csv.record(fields...);
    csv.flush();
    return out.str();
}

TEST(CsvWriter, QuotesFieldsWithCommasQuotesOrLineBreaksAndNoOthers) {
    EXPECT_EQ(record(CsvWriter::Ends::lf, "plain", "with space", "-1.5", "ü"), "plain,with space,-1.5,ü\n");
    EXPECT_EQ(record(CsvWriter::Ends::lf, "a,b"), "\"a,b\"\n");                    // rule 6
    EXPECT_EQ(record(CsvWriter::Ends::lf, "a\nb", "a\rb"), "\"a\nb\",\"a\rb\"\n"); // rule 6
    EXPECT_EQ(record(CsvWriter::Ends::lf, "a\"b", "\""), "\"a\"\"b\",\"\"\"\"\n"); // rule 7
}

TEST(CsvWriter, PutsAnApostropheBeforeWhatASpreadsheetWouldRun) {
    EXPECT_EQ(record(CsvWriter::Ends::lf, "=1+1", "@x", "+cmd", "-x", "\t=1"), "'=1+1,'@x,'+cmd,'-x,'\t=1\n");
    EXPECT_EQ(record(CsvWriter::Ends::lf, "-1", "+2.5", "-1e3", "-", "a=1"), "-1,+2.5,-1e3,-,a=1\n");
}

TEST(CsvWriter, PassesNothingOnThatATerminalWouldActOn) {
    EXPECT_EQ(record(CsvWriter::Ends::lf, "a\033[31mb", "a\u009bb", "a\u202eb", "\x7f"),
              "a?[31mb,a?b,a?b,?\n");
}

TEST(CsvWriter, KeepsEmptyFieldsAndEndsRecordsAsAsked) {
    EXPECT_EQ(record(CsvWriter::Ends::crlf, "a", "", ""), "a,,\r\n"); // rules 1 and 4
    EXPECT_EQ(record(CsvWriter::Ends::lf, "", "a"), ",a\n");
}

TEST(CsvWriter, WritesWholeNumbersInFull) {
    EXPECT_EQ(record(CsvWriter::Ends::lf, -1, 0u, std::int64_t{315'576'000'000'000}, true),
              "-1,0,315576000000000,1\n");
}

TEST(CsvWriter, WhatIsWrittenBeforeAnExceptionIsNotLost) {
    std::ostringstream out;
    try {
        CsvWriter csv(out);
        csv.record("a", 1);
        throw 1;
    } catch (int) {
    }
    EXPECT_EQ(out.str(), "a,1\n");
}

/// A reader by the grammar of RFC 4180; it shares nothing with the writer.
std::vector<std::vector<std::string>> read_back(const std::string& text) {
    std::vector<std::vector<std::string>> records;
    std::size_t at = 0;
    while (at < text.size()) {
        records.emplace_back();
        for (bool more = true; more;) {
            std::string field;
            if (at < text.size() && text[at] == '"') {
                for (++at; at + 1 < text.size() && (text[at] != '"' || text[at + 1] == '"'); ++at) {
                    if (text[at] == '"') ++at;
                    field += text[at];
                }
                ++at;
            } else {
                while (text[at] != ',' && text[at] != '\r')
                    field += text[at++];
            }
            records.back().push_back(field);
            more = text[at] == ',';
            at += more ? 1 : 2;
        }
    }
    return records;
}

RC_GTEST_PROP(CsvWriter, AnyFieldsAreReadBackAsTheyWere, ()) {
    const auto letters = rc::gen::element('a', ',', '"', '\n', '\r', ' ');
    const auto record_of_fields = rc::gen::nonEmpty(
        rc::gen::container<std::vector<std::string>>(rc::gen::container<std::string>(letters)));
    const auto records = *rc::gen::container<std::vector<std::vector<std::string>>>(record_of_fields);
    std::ostringstream out;
    {
        CsvWriter csv(out, CsvWriter::Ends::crlf);
        for (const auto& fields : records) {
            for (const std::string& field : fields)
                csv.field(field);
            csv.end_record();
        }
    }
    RC_ASSERT(read_back(out.str()) == records);
}

} // namespace
} // namespace winkhold::testing
