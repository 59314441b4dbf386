// SPDX-License-Identifier: GPL-3.0-or-later
#include "Library/Scratch.h"

#include <catch2/catch.hpp>

#include <set>

using namespace couplet;
using namespace couplet::tests;

namespace fs = std::filesystem;

namespace {

// One broken file a fault, in files/, and what a person is told: the sentence after the file's name.
struct Case
{
    const char* file;
    const char* sentence;
};

const Case cases[] = {
    {"addend-without-name", ": references[2].addends[0].name is missing; add it as text"},
    {"age-true", ": allowedAge_h is true or false, but must be a number; correct it"},
    {"age-zero", ": allowedAge_h is 0, but must be above 0; correct it"},
    {"blank", ": it is empty; take it away or bring a whole copy"},
    {"budget-degrees-below-one",
     ": references[2].budget[0].degreesOfFreedom is 0.5, but must be 1 or more; correct it"},
    {"budget-negative", ": references[2].budget[0].u_dB is -0.05, but must be 0 or more; correct it"},
    {"budget-shape-unknown", ": references[2].budget[0].shape is 'triangular', but must be one of 'normal', "
                             "'rectangular'; correct it, or read the file with a newer Couplet"},
    {"calibrator-class-zero", ": class is 0, but must be a whole number within 1 to 2; correct it"},
    {"calibrator-coefficient-for-piston",
     ": pressureLaw.coefficient_dBPerkPa is a field this Couplet does not know; take it out, or read the "
     "file with the newer Couplet that wrote it"},
    {"calibrator-coefficient-missing", ": pressureLaw.coefficient_dBPerkPa is missing; add it as a number"},
    {"calibrator-due-no-date", ": due is 'next spring', but must be a date like '2026-05-03'; correct it"},
    {"calibrator-frequency-missing", ": tones[0].frequency_Hz is missing; add it as a number"},
    {"calibrator-law-unknown", ": pressureLaw.law is 'boyle', but must be one of 'none', 'piston', "
                               "'coefficient'; correct it, or read the file with a newer Couplet"},
    {"calibrator-level-too-high", ": tones[0].level_dB is 940, but must be within -20 to 200; correct it"},
    {"calibrator-tones-empty", ": tones is empty or missing; add at least one tone with its frequency_Hz and level_dB"},
    {"calibrator-without-tones",
     ": tones is empty or missing; add at least one tone with its frequency_Hz and level_dB"},
    {"character-zero", ", line 4: a text holds a control character; take it out"},
    {"colon-missing", ", line 3: no ':' stands behind the field 'kind'; put it there"},
    {"comma-missing", ", line 4: a comma is missing before this; put it there"},
    {"comma-too-many", ", line 6: a comma stands before '}'; take it out"},
    {"correction-as-number", ": correction is a number, but must be an object; correct it"},
    {"correction-date-wrong", ": correction.date is '3 May', but must be a date like '2026-05-03'; correct it"},
    {"correction-uncertainty-negative", ": correction.U_dB is -0.1, but must be 0 or more; correct it"},
    {"decimal-comma", ", line 2: a number stands where a field's name is needed; write decimal points, not commas"},
    {"drive-accuracy-negative", ": meterAccuracy_percent is -0.5, but must be 0 or more; correct it"},
    {"drive-full-scale-zero", ": fullScale_V is 0, but must be above 0; correct it"},
    {"drive-with-slot", ": slot is a field this Couplet does not know; take it out, or read the file with "
                        "the newer Couplet that wrote it"},
    {"earphone-couplers-no-list", ": choseCorrectionOf is text, but must be a list; correct it"},
    {"earphone-without-rating", ": rating is missing; add it as an object"},
    {"empty", ": it is empty; take it away or bring a whole copy"},
    {"field-missing", ": allowedAge_h is missing; add it as a number"},
    {"field-twice", ", line 6: the field 'name' stands there twice; take one out"},
    {"field-unknown", ": colour is a field this Couplet does not know; take it out, or read the file with "
                      "the newer Couplet that wrote it"},
    {"field-unknown-inside", ": correction.weight is a field this Couplet does not know; take it out, or "
                             "read the file with the newer Couplet that wrote it"},
    {"infinite-number", ", line 2: the number 1e400 is too large or too small; correct it"},
    {"judged-negative", ": judged.seating_dB is -0.05, but must be 0 or more; correct it"},
    {"kind-missing", ": kind is missing; add it as one of 'coupler', 'calibrator', 'earphone', 'drive source'"},
    {"kind-unknown", ": kind is 'toaster', but must be one of 'coupler', 'calibrator', 'earphone', 'drive "
                     "source'; correct it, or read the file with a newer Couplet"},
    {"list-at-root", ", line 1: it must start with '{'; it is no file of this library"},
    {"name-empty", ": name has 0 characters, but must have 1 to 120; give another name"},
    {"name-missing", ": name is missing; add it as text"},
    {"name-null", ": name is null, but must be text; give it"},
    {"name-too-long", ": name has 121 characters, but must have 1 to 120; give another name"},
    {"name-with-line-break", ": name holds a line break or control character: 'ben?ch'; take it out"},
    {"nested-too-deep", ", line 2: it is nested more than 64 levels deep; it is no file of this library"},
    {"no-json", ", line 1: it must start with '{'; it is no file of this library"},
    {"not-a-number", ", line 2: 'NaN' stands without quotes; put it in double quotes or take it out"},
    {"not-utf-8", ", line 4: it is not UTF-8; save it again as UTF-8"},
    {"older-elsewhere",
     ": olderReferences[0].file is '../coupler-bench.history', but must be the name of a .history file "
     "in the same folder; correct it"},
    {"older-in-version-one", ": version is 1, but must be 2 where older references are in other files; correct it"},
    {"older-of-none",
     ": olderReferences[0].references is 0, but must be a whole number within 1 to 1000000; correct it"},
    {"rating-form-unknown", ": rating.form is 'per ampere', but must be one of 'per volt', 'per milliwatt', "
                            "'at voltage'; correct it, or read the file with a newer Couplet"},
    {"rating-frequency-as-text", ": rating.frequency_Hz is text, but must be a number; write it without quotes"},
    {"rating-impedance-zero", ": rating.impedance_ohm is 0, but must be above 0; correct it"},
    {"rating-impedance-tolerance-too-large",
     ": rating.impedanceTolerance_percent is 120, but must be within 0 to 90; correct it"},
    {"rating-level-too-high", ": rating.level_dB is 1187, but must be within -20 to 200; correct it"},
    {"rating-source-negative", ": rating.ratedSource_ohm is -1, but must be 0 or more; correct it"},
    {"rating-tolerance-negative", ": rating.tolerance_dB is -1, but must be 0 or more; correct it"},
    {"rating-voltage-missing", ": rating.voltage_V is missing, but a rating 'at voltage' needs it; add it as a number"},
    {"rating-voltage-unwanted", ": rating.voltage_V is given, but only a rating 'at voltage' has one; take it out"},
    {"rating-voltage-zero", ": rating.voltage_V is 0, but must be above 0; correct it"},
    {"reference-channel-zero",
     ": references[2].channel is 0, but must be a whole number within 1 to 65535; correct it"},
    {"reference-class-three",
     ": references[2].calibratorClass is 3, but must be a whole number within 1 to 2; correct it"},
    {"reference-frequency-zero", ": references[2].frequency_Hz is 0, but must be above 0; correct it"},
    {"reference-missing-no-text", ": references[2].missing[1] is a number, but must be text; correct it"},
    {"reference-offset-as-text", ": references[2].offset_dB is text, but must be a number; write it without quotes"},
    {"reference-offset-missing", ": references[2].offset_dB is missing; add it as a number"},
    {"reference-offset-null", ": references[2].offset_dB is null, but must be a number; give it"},
    {"reference-pressure-in-hpa", ": references[2].pressure_kPa is 986, but must be within 50 to 120; correct it"},
    {"reference-rate-negative", ": references[2].sampleRate_Hz is -1, but must be 0 or more; correct it"},
    {"reference-time-without-zone", ": references[2].takenAt is '2026-05-03T12:04:11', but must be a time "
                                    "like '2026-05-03T12:04:11Z'; correct it"},
    {"references-no-list", ": references is an object, but must be a list; correct it"},
    {"response-frequency-zero", ": response[0].frequency_Hz is 0, but must be above 0; correct it"},
    {"response-not-ascending", ": response[1].frequency_Hz is 50, but must be above the 100 before it; put "
                               "the rows in ascending order"},
    {"response-row-no-object", ": response[0] is a list, but must be an object; correct it"},
    {"response-too-large", ": response[0].response_dB is -40.5, but must be within -40 to 40; correct it"},
    {"simulated-as-text", ": simulated is text, but must be true or false; write it without quotes"},
    {"single-quotes", ", line 4: text stands in single quotes; use double quotes"},
    {"slot-not-whole", ": slot is 1.5, but must be a whole number within 1 to 16; correct it"},
    {"slot-too-high", ": slot is 17, but must be a whole number within 1 to 16; correct it"},
    {"text-after-the-end", ", line 7: text follows the closing '}'; take it out"},
    {"torn", ", line 4: it ends before the '{' of its last part is closed; bring a whole copy"},
    {"torn-in-text", ", line 4: a text is not closed; bring a whole copy"},
    {"two-items-in-one", ", line 7: text follows the closing '}'; take it out"},
    {"version-as-text", ": version is text, but must be a number; write it without quotes"},
    {"version-missing", ": version is missing; add it as a number"},
    {"version-newer", ": version is 2, but this Couplet reads version 1; read the file with a newer Couplet"},
    {"version-zero", ": version is 0, but must be 1; correct it"},
};

const fs::path files = fs::path(COUPLET_TESTS_DIR) / "Faults" / "files";

} // namespace

TEST_CASE("each broken file is refused with a sentence that names the place and the mend")
{
    for (const auto& [file, sentence] : cases) {
        const auto where = std::string(file) + ".json";
        INFO(where);
        REQUIRE(fs::exists(files / where));
        const auto item = itemFrom(contentOfFile(files / where), where);
        REQUIRE_FALSE(item);
        CHECK(item.fault().sentence == where + sentence);
    }
}

TEST_CASE("each broken file has its sentence in the table")
{
    std::set<std::string> known;
    for (const auto& entry : cases)
        known.insert(entry.file);
    for (const auto& entry : fs::directory_iterator(files)) {
        INFO(entry.path());
        CHECK(known.contains(entry.path().stem().string()));
    }
}

TEST_CASE("a fault is one line and says what to do")
{
    for (const auto& entry : cases) {
        const std::string sentence = entry.sentence;
        INFO(sentence);
        CHECK(sentence.find('\n') == std::string::npos);
        CHECK(sentence.find("; ") != std::string::npos);
    }
}

TEST_CASE("a library of broken files names every one and works for the rest")
{
    const Scratch scratch;
    const Folder folder(scratch.path);
    REQUIRE(folder.save(fullEarphone("e")));
    for (const auto& entry : cases)
        fs::copy_file(files / (std::string(entry.file) + ".json"), scratch.path / (std::string(entry.file) + ".json"));
    const auto listing = folder.list();
    CHECK(listing.items.size() == 1);
    CHECK(listing.unreadable.size() == std::size(cases));
}
