// SPDX-License-Identifier: GPL-3.0-or-later
#include "LibraryStates.h"

#include <fmt/format.h>

#include <cmath>
#include <functional>

namespace couplet {
namespace {

Reference referenceOf(const std::string& takenAt, double offset_dB)
{
    Reference reference;
    reference.takenAt = takenAt;
    reference.offset_dB = offset_dB;
    reference.addends = {{"calibrator", 114.02}, {"coupler takes away", -1.36}, {"tone", offset_dB - 112.66}};
    reference.budget = {{"correction", 0.225, infiniteDegrees, Shape::normal, "fit"},
                        {"seating", 0.05, infiniteDegrees, Shape::normal, "assumed"}};
    reference.calibrator = "Calibrator 114.02 dB";
    reference.tone_dBFS = 112.66 - offset_dB;
    reference.frequency = Hertz(1000.0);
    reference.sampleRate_Hz = 48000.0;
    return reference;
}

// A pressure microphone behind an ear simulator's tube: flat, a resonance, then it falls.
std::vector<ResponsePoint> responseTable()
{
    std::vector<ResponsePoint> table;
    for (int third = -17; third <= 12; ++third) {
        const double frequency = 1000.0 * std::pow(10.0, 0.1 * third);
        const double peak = 4.2 * std::exp(-std::pow(std::log2(frequency / 12500.0) / 0.45, 2.0));
        table.push_back({Hertz(std::round(frequency * 10.0) / 10.0),
                         std::round(100.0 * (peak - 0.4 * std::pow(frequency / 16000.0, 2.0))) / 100.0});
    }
    return table;
}

Coupler coupler(const std::string& name, const std::string& kind, const std::string& serial)
{
    Coupler c;
    c.name = name;
    c.kind = kind;
    c.serial = serial;
    return c;
}

Coupler leftBench()
{
    auto c = coupler("Ear simulator, left bench", "ear simulator IEC 60318-4", "2011-0417");
    c.microphone = "half-inch, pressure, built in";
    c.input = "interface, input 1";
    c.gainNote = "gain at the notch";
    c.correction = Correction{
        1.36,        0.45, true, "Calibrator 114.02 dB", Hertz(1000.0), "fit of 2026-05-03, mostly the silicone collar",
        "2026-05-03"};
    c.references = {referenceOf("2026-04-12T09:10:00Z", 121.91), referenceOf("2026-04-27T16:42:00Z", 121.99),
                    referenceOf("2026-05-03T12:04:11Z", 121.97)};
    c.response = responseTable();
    c.responseSource = "microphone 2011-0417.txt";
    return c;
}

CouplerRow row(Coupler c, int slot, ReferenceState state = ReferenceState::none, double age_s = 0.0)
{
    CouplerRow r;
    r.slot = slot;
    r.inLibrary = true;
    r.reference = state;
    if (state != ReferenceState::none)
        r.referenceAge_s = age_s;
    r.profile = std::make_shared<const Coupler>(std::move(c));
    return r;
}

LibraryView with(LibraryView view, const std::function<void(LibraryView&)>& change)
{
    change(view);
    return view;
}

ProfileQuestion question(ProfileState state)
{
    ProfileQuestion q;
    q.state = state;
    q.session = leftBench();
    q.slots = {1};
    q.onlyInSession = 3;
    if (state == ProfileState::notInLibrary)
        return q;
    q.library = leftBench();
    q.onlyInSession = q.onlyInLibrary = 0;
    if (state != ProfileState::sessionWentOn) {
        q.library->references.push_back(referenceOf("2026-05-05T08:31:00Z", 121.94));
        q.library->references.push_back(referenceOf("2026-05-06T08:30:00Z", 121.93));
        q.onlyInLibrary = 2;
    }
    if (state != ProfileState::libraryWentOn) {
        q.session.references.push_back(referenceOf("2026-05-04T10:00:00Z", 122.51));
        q.onlyInSession = 1;
    }
    return q;
}

ProfileQuestion everythingDiffers()
{
    auto q = question(ProfileState::differs);
    q.library->correction = Correction{1.21, {}, false, "", {}, "typed", "2026-05-05"};
    q.library->response.clear();
    q.library->responseSource.clear();
    q.library->kind = "ear simulator IEC 60318-4, high resolution";
    q.library->serial = "2011-0418";
    q.library->microphone = "half-inch, pressure, replaced in 2026 after a fall from the bench";
    q.library->gainNote = "pad in, gain at the second notch from the left";
    q.library->allowedAge_h = 8.0;
    q.session.name = q.library->name = "Simulateur d'oreille du banc de gauche, \u00e9quip\u00e9 de son ancien "
                                       "pr\u00e9amplificateur et d'une rallonge";
    return q;
}

LibraryView asking(const ProfileQuestion& q)
{
    auto view = fiveCouplers();
    view.questions = {q};
    auto row = *view.rows[0].profile;
    row = q.session;
    view.rows[0].profile = std::make_shared<const Coupler>(row);
    view.rows[0].inLibrary = q.library.has_value();
    return view;
}

} // namespace

LibraryView fiveCouplers()
{
    constexpr double hour = 3600.0;
    LibraryView view;
    view.read = true;
    view.folder = "library";
    view.newKinds = {"Ear simulator IEC 60318-4", "Acoustic coupler IEC 60318-5", "Artificial ear IEC 60318-1",
                     "Bare microphone"};
    auto right = coupler("Ear simulator, right bench", "ear simulator IEC 60318-4", "2011-0418");
    right.references = {referenceOf("2026-05-01T10:00:00Z", 122.40)};
    auto small = coupler("2 cm\u00b3 coupler", "acoustic coupler IEC 60318-5", "77");
    auto bare = coupler("Bare microphone", "bare microphone", "M 9");
    bare.references = {referenceOf("2026-05-03T13:40:00Z", 118.02)};
    bare.response = responseTable();
    bare.responseSource = "bare.txt";
    view.rows = {row(leftBench(), 1, ReferenceState::fresh, 2.0 * hour),
                 row(right, 2, ReferenceState::stale, 51.0 * hour), row(small, 5),
                 row(bare, 0, ReferenceState::fresh, 1400.0),
                 row(coupler("Old artificial ear", "artificial ear IEC 60318-1", ""), 0)};
    view.revision = 1;
    return view;
}

LibraryView manyCouplers(std::size_t count)
{
    auto view = fiveCouplers();
    for (std::size_t i = view.rows.size(); i < count; ++i) {
        auto c = leftBench();
        c.name = fmt::format("Ear simulator {:04}, bench {}", i, i % 37);
        c.serial = fmt::format("2011-{:04}", i);
        view.rows.push_back(row(c, 0, i % 3 == 0 ? ReferenceState::stale : ReferenceState::fresh, 600.0 * double(i)));
    }
    return view;
}

std::vector<NamedLibrary> libraryStates()
{
    const auto five = fiveCouplers();
    const auto empty = with(five, [](LibraryView& v) { v.rows.clear(); });
    const auto unreadable = with(five, [](LibraryView& v) {
        v.unreadable = {
            "/srv/measurement/left-bench/Couplet/coupler-right-bench-1f09a3c2.json: line 14: "
            "references[2].offset_dB is missing; add it or take the reference out",
            "/srv/measurement/left-bench/Couplet/coupler-old-8c1d.json: line 3, column 9: a comma is missing "
            "before \"name\"; add it"};
    });
    const auto refused = with(five, [](LibraryView& v) {
        v.said = "microphone.txt: line 12: frequency 500 Hz comes after 630 Hz; put the rows in ascending order";
        v.refused = true;
    });
    const auto undo = with(five, [](LibraryView& v) {
        v.rows.pop_back();
        v.said = "'Old artificial ear' was removed from the library";
        v.undo = "'Old artificial ear'";
    });
    const auto import = with(five, [](LibraryView& v) {
        v.import = ImportQuestion{"benches of may.json",
                                  {"coupler 'Ear simulator, left bench': the library's has 3 references, the newest of "
                                   "2026-05-03; the file's has 5, the newest of 2026-05-06",
                                   "earphone 'S': the ratings differ"},
                                  3,
                                  1};
    });
    auto plain = five;
    for (auto& r : plain.rows) { // no plot, long texts
        auto c = *r.profile;
        c.response.clear();
        c.name =
            "Simulateur d'oreille du banc de gauche, \u00e9quip\u00e9 de son ancien pr\u00e9amplificateur, " + c.name;
        c.microphone = "a half-inch pressure microphone with an extension rod, a preamplifier and a cable of 12 m";
        c.input = "interface, input 1, by way of the patch bay's second row";
        r.profile = std::make_shared<const Coupler>(c);
        r.slot += r.slot > 0 ? 10 : 0;
    }
    return {{"five", five, ""},
            {"searching", five, "bench"},
            {"thousand", manyCouplers(1000), ""},
            {"thousand-searching", manyCouplers(1000), "0417"},
            {"none", empty, ""},
            {"nothing-found", five, "xyz"},
            {"unreadable", unreadable, "cannot"},
            {"refused-table", refused, ""},
            {"undo", undo, ""},
            {"import", import, ""},
            {"long", plain, ""},
            {"in-session-only", asking(question(ProfileState::notInLibrary)), ""}};
}

std::vector<NamedVersions> versionStates()
{
    VersionsView few{"Ear simulator, left bench",
                     {{3, "2026-05-06T09:12:40Z", "14 references more"},
                      {2, "2026-05-03T12:04:11Z", "correction 1.44 \u2192 1.36 dB, allowed age 8 \u2192 24 h"},
                      {1, "2026-04-12T09:02:00Z", "slot 3 \u2192 1"}},
                     {}};
    auto many = few;
    many.rows.clear();
    for (int number = 1020; number > 1000; --number)
        many.rows.push_back({number, fmt::format("2026-05-{:02}T12:04:11Z", number - 1000),
                             "renamed 'Simulateur d\u2019oreille du banc de gauche' \u2192 'Ear simulator, left "
                             "bench', correction \u22120.02 \u2192 1.36 dB, and 5 more changes"});
    const auto none = VersionsView{few.coupler, {}, {}};
    auto unreadable = few;
    unreadable.unreadable = {"000004-20260507T091240Z-changed.json, line 3: a comma is missing", "another"};
    const auto damaged = VersionsView{few.coupler,
                                      {},
                                      {"000001-20260507T091240Z-changed.json, line 3: a comma is "
                                       "missing before \"name\"; add it"}};
    return {{"few", few},         {"many", many}, {"none", none}, {"some-unreadable", unreadable},
            {"damaged", damaged}, {"reading", {}}};
}

LibraryView withVersions(LibraryView view, const std::optional<VersionsView>& versions)
{
    view.versions = versions;
    return view;
}

std::vector<NamedLibrary> conflictStates()
{
    return {{"not-in-library", asking(question(ProfileState::notInLibrary)), ""},
            {"library-went-on", asking(question(ProfileState::libraryWentOn)), ""},
            {"session-went-on", asking(question(ProfileState::sessionWentOn)), ""},
            {"differs", asking(question(ProfileState::differs)), ""},
            {"everything-differs", asking(everythingDiffers()), ""}};
}

} // namespace couplet
