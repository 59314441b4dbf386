// SPDX-License-Identifier: GPL-3.0-or-later
#include "Bench/FitEarphones.h"
#include "Bench/FitSheet.h"
#include "Bench/FitWords.h"
#include "Bench/SheetText.h"
#include "Bench/SimulatedFit.h"
#include "Bench/SimulatedPapers.h"
#include "Metrology/Repeats.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>

using namespace couplet;

namespace {

EarphoneReading readingAt(double level_dB, bool seatedAnew = true)
{
    EarphoneReading reading{level_dB, 94.6, 0.8, 0.06, 0.11, 0.05};
    reading.seatedAnew = seatedAnew;
    return reading;
}

FitEarphone inserted(const std::vector<double>& levels_dB)
{
    auto e = *unreadEarphone(earphoneOnPaper(demoScenario(), 0));
    for (const double level_dB : levels_dB)
        addInsertion(e, readingAt(level_dB));
    return e;
}

// The sheet of the scenario's earphones, the first of them as its text has it.
Outcome<FitSheet> sheetWith(const std::string& more, const std::string& u = "0.2")
{
    const auto text =
        R"({"through": {}, "settings": {"microphoneBuiltIn": true, "u_transfer_dB": 0.15, "u_adapter_dB": 0.1, )"
        R"("u_seating_dB": 0.05}, "earphones": [{"name": "P", "level_dB": 96.2, "expected_dB": 94.6, )"
        R"("tolerance_dB": 0.8, "u_dB": )" +
        u + more + "}]}";
    return tests::sheetFrom(text);
}

std::vector<std::string> notesWith(const FitEarphone& e)
{
    auto input = fitOnPaper(demoScenario());
    input.earphones[0] = e;
    const auto fit = fitCorrection(input);
    REQUIRE(fit);
    return notesOf(input, *fit);
}

bool has(const std::vector<std::string>& notes, const std::string& part)
{
    return std::any_of(notes.begin(), notes.end(),
                       [&](const auto& note) { return note.find(part) != std::string::npos; });
}

} // namespace

TEST_CASE("as long as no insertion is set aside, level and u are to the last bit those of all of them")
{
    const std::vector<double> levels_dB{96.13, 96.31, 96.07, 95.98, 96.22};
    auto e = *unreadEarphone(earphoneOnPaper(demoScenario(), 0));
    std::vector<double> read_dB;
    double sum_dB = 0.0;
    for (const double level_dB : levels_dB) {
        const bool seatedAnew = read_dB.size() != 3; // from the fourth on a promise is not undercut
        addInsertion(e, readingAt(level_dB, seatedAnew));
        read_dB.push_back(level_dB);
        sum_dB += level_dB;
        const auto count = static_cast<double>(read_dB.size());
        CHECK(e.level_dB == sum_dB / count);
        const double promised_dB = 0.11 / std::sqrt(count);
        const double scatter_dB = read_dB.size() < 3 ? 0.0 : repeatsOf(read_dB)->deviationOfMean();
        const double u_dB = read_dB.size() < 3   ? promised_dB
                            : read_dB.size() < 4 ? scatter_dB
                                                 : std::max(promised_dB, scatter_dB);
        CHECK(*e.u_dB == std::hypot(0.06, u_dB));
    }
    CHECK(e.insertions.size() == 5);
    CHECK_FALSE(e.insertions[3].seatedAnew);
    CHECK(e.insertions[4].seatedAnew);
}

TEST_CASE("an insertion set aside leaves level and u to the others, and gives both back when it counts again")
{
    auto e = inserted({96.10, 96.14, 93.20, 96.18});
    const auto before = e;
    e.insertions[2].setAside = "not seated";
    followInsertions(e);
    auto without = inserted({96.10, 96.14, 96.18});
    CHECK(e.level_dB == without.level_dB);
    CHECK(*e.u_dB == *without.u_dB);
    CHECK(e.setAside.empty());
    e.insertions[2].setAside.clear();
    followInsertions(e);
    CHECK(e == before);
}

TEST_CASE("the scatter is believed when the earphone was taken out between each two insertions that count")
{
    auto e = inserted({96.10, 96.11, 96.12});
    const double believed_dB = std::hypot(0.06, 0.01 / std::sqrt(3.0));
    CHECK(*e.u_dB == Approx(believed_dB));
    addInsertion(e, readingAt(96.13, false));
    CHECK(*e.u_dB == Approx(std::hypot(0.06, 0.11 / std::sqrt(4.0))));
    addInsertion(e, readingAt(96.12)); // which does not mend it
    CHECK(*e.u_dB == Approx(std::hypot(0.06, 0.11 / std::sqrt(5.0))));
    e.insertions[4].setAside = "one too many";
    e.insertions[3].setAside = "read twice";
    followInsertions(e);
    CHECK(*e.u_dB == Approx(believed_dB));
    // One seating read twice, the first time set aside: the other stands for it.
    e.insertions[3].setAside.clear();
    e.insertions[2].setAside = "read twice";
    e.insertions[3].level_dB = 96.12;
    followInsertions(e);
    CHECK(*e.u_dB == Approx(believed_dB));
}

TEST_CASE("an earphone all of whose insertions are set aside says nothing until one counts again")
{
    auto e = inserted({96.10, 96.14});
    for (auto& insertion : e.insertions)
        insertion.setAside = "its tip was torn";
    followInsertions(e);
    CHECK(e.setAside == everyInsertionAside);
    CHECK(hasNoInsertionLeft(e));
    CHECK(has(notesWith(e), "every insertion of 'earphone P' is set aside: it says nothing"));
    addInsertion(e, readingAt(96.20));
    CHECK(e.setAside.empty());
    CHECK(e.level_dB == 96.20);
    CHECK(*e.u_dB == std::hypot(0.06, 0.11));
    e.setAside = "another tip"; // of the whole earphone
    e.insertions[2].setAside = "slipped";
    followInsertions(e);
    CHECK(e.setAside == "another tip");
}

TEST_CASE("an insertion that is set aside follows the drive as the others do")
{
    auto e = inserted({96.10, 93.20});
    e.insertions[1].setAside = "not seated";
    auto quieter = readingAt(90.10);
    quieter.expected_dB = 88.6;
    addInsertion(e, quieter);
    CHECK(e.level_dB == Approx(90.10));
    e.insertions[1].setAside.clear();
    followInsertions(e);
    CHECK(e.level_dB == Approx((90.10 + 87.20 + 90.10) / 3.0));
}

TEST_CASE("an insertion that does not belong with the others is pointed out and still counts")
{
    const auto e = inserted({96.15, 96.19, 96.17, 96.18, 96.16, 96.45});
    auto input = fitOnPaper(demoScenario());
    input.earphones[0] = e;
    const auto fit = fitCorrection(input);
    REQUIRE(fit);
    REQUIRE(fit->earphones[0].outliers.size() == 1);
    CHECK(fit->earphones[0].outliers[0].index == 5);
    CHECK(fit->earphones[0].says_dB == e.says_dB());
    CHECK(has(notesWith(e), "insertion 6 of 'earphone P' (96.45 dB) is an outlier: Grubbs' test has G"));
    CHECK_FALSE(has(notesWith(inserted({96.15, 96.45})), "Grubbs"));

    auto aside = e; // the place told is the one among all
    aside.insertions[0].setAside = "slipped";
    followInsertions(aside);
    CHECK(has(notesWith(aside), "insertion 1 of 'earphone P' (96.15 dB) is set aside: slipped"));
    CHECK(has(notesWith(aside), "insertion 6 of 'earphone P' (96.45 dB) is an outlier"));
    aside.insertions[5].setAside = "odd";
    followInsertions(aside);
    CHECK_FALSE(has(notesWith(aside), "Grubbs"));
}

TEST_CASE("insertions that differ by more than 2.5 dB are told of as long as both count")
{
    auto e = inserted({96.10, 93.50});
    CHECK(*insertionsDiffer_dB(e) == Approx(2.6));
    CHECK(has(notesWith(e), "the insertions of 'earphone P' differ by 2.60 dB: insert and read it again"));
    e.insertions[1].setAside = "not seated";
    followInsertions(e);
    CHECK_FALSE(insertionsDiffer_dB(e));
    CHECK_FALSE(insertionsDiffer_dB(inserted({96.10, 93.70})));
    CHECK_FALSE(insertionsDiffer_dB(*unreadEarphone(earphoneOnPaper(demoScenario(), 0))));
}

TEST_CASE("an older sheet's insertions are had back, and level and u stay what they were")
{
    const auto sheet = sheetWith(R"(, "insertions_dB": [96.1, 96.3, 96.2])");
    REQUIRE(sheet);
    auto e = sheet->input.earphones[0];
    REQUIRE(e.insertions.size() == 3);
    CHECK(e.insertions[1].level_dB == 96.3);
    CHECK(*e.insertions[1].expected_dB == 94.6);
    CHECK(e.level_dB == 96.2);
    CHECK(*e.u_dB == 0.2);
    followInsertions(e);
    CHECK(e.level_dB == Approx(96.2));
    CHECK(*e.u_dB == Approx(0.2));
    e.insertions[0].setAside = e.insertions[1].setAside = "slipped";
    followInsertions(e);
    CHECK(e.level_dB == 96.2);
    const double rest = 0.04 - 0.11 * 0.11 / 3.0;
    CHECK(*e.u_dB == Approx(std::sqrt(rest + 0.11 * 0.11)));
    const auto text = printedJson(jsonOf(*sheet), JsonLayout::line);
    CHECK_THAT(text, Catch::Contains("\"insertions\": [{\"level_dB\": 96.1, \"expected_dB\": 94.6, ") &&
                         !Catch::Contains("insertions_dB"));
}

TEST_CASE("an older sheet's insertions are held for no less sure than its u has them together")
{
    auto e = sheetWith(R"(, "insertions_dB": [96.2, 96.2])", "0.05")->input.earphones[0];
    followInsertions(e);
    CHECK(*e.u_dB == Approx(0.05));
    const auto none = sheetWith(R"(, "insertions_dB": [])")->input.earphones[0];
    CHECK(none.insertions.empty());
    CHECK(*none.u_dB == 0.2);
}

TEST_CASE("a sheet none of whose insertions counts has its earphone set aside, whatever it says")
{
    const std::string aside = R"(, "insertions": [{"level_dB": 96.2, "setAside": "slipped"}])";
    CHECK(sheetWith(aside)->input.earphones[0].setAside == everyInsertionAside);
    const std::string counts = R"(, "setAside": "every insertion is set aside", "insertions": [{"level_dB": 96.2}])";
    CHECK(sheetWith(counts)->input.earphones[0].setAside.empty());
    CHECK_THAT(sheetWith(R"(, "insertions": [{"level_dB": 1e9}])").fault().sentence,
               Catch::Contains("earphones[0].insertions[0].level_dB"));
}
