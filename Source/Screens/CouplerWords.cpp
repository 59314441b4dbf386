// SPDX-License-Identifier: GPL-3.0-or-later
#include "Screens/CouplerWords.h"

#include "Library/Utf8.h"
#include "Metrology/Expanded.h"
#include "Quantities/QuantityText.h"

#include <fmt/format.h>

namespace couplet {
namespace {

std::string orNone(const std::string& text)
{
    return text.empty() ? "not stated" : text;
}

std::string inputText(const Coupler& c)
{
    if (c.gainNote.empty())
        return orNone(c.input);
    return c.input.empty() ? c.gainNote : c.input + "; " + c.gainNote;
}

std::string historyText(const Coupler& c)
{
    if (c.references.empty())
        return "no reference yet";
    const auto count = countText(c.references.size(), "reference");
    return fmt::format("{} since {}", count, c.references.front().takenAt.substr(0, 10));
}

std::string responseText(const Coupler& c)
{
    if (c.response.empty())
        return "no table";
    return c.responseSource.empty() ? countText(c.response.size(), "point") : c.responseSource;
}

} // namespace

std::string countText(std::size_t count, const std::string& what)
{
    return fmt::format("{} {}{}", count, what, count == 1 ? "" : "s");
}

std::string momentText(const std::string& iso)
{
    constexpr std::size_t minutes = 16; // "2026-05-03T12:04"
    if (iso.size() <= minutes || iso[10] != 'T')
        return iso;
    return iso.substr(0, 10) + " " + iso.substr(11, 5) + (iso.back() == 'Z' ? " UTC" : "");
}

MarkedWords referenceWords(const CouplerRow& row)
{
    const std::string age = row.referenceAge_s ? " " + ageText(*row.referenceAge_s) : "";
    switch (row.reference) {
    case ReferenceState::fresh:
        return {Mark::whole, "referenced" + age};
    case ReferenceState::stale:
        return {Mark::half, "stale, referenced" + age};
    case ReferenceState::none:
    case ReferenceState::noCoupler:
        break;
    }
    return {Mark::hollow, "no reference"};
}

std::string correctionText(const std::optional<Correction>& correction)
{
    if (!correction)
        return "none";
    auto text = fmt::format("{} dB", levelText(correction->value_dB));
    text += correction->U_dB ? fmt::format(", {}", uncertaintyText(*correction->U_dB)) : ", uncertainty not given";
    if (!correction->origin.empty())
        text += ", " + correction->origin;
    return text;
}

std::string offsetText(const Coupler& coupler)
{
    const Reference* reference = coupler.current();
    if (reference == nullptr)
        return "none";
    auto text = fmt::format("{} dB", levelText(reference->offset_dB));
    if (reference->missing.empty() && !reference->budget.empty())
        text += fmt::format(" {} (95 %)", uncertaintyText(expand(reference->budget).U_dB));
    return text;
}

std::vector<DetailLine> detailLines(const Coupler& c)
{
    return {{"kind", orNone(c.kind)},
            {"serial", orNone(c.serial)},
            {"microphone", orNone(c.microphone)},
            {"input, gain", inputText(c)},
            {"allowed age", fmt::format("{:g} h", c.allowedAge_h)},
            {"offset", offsetText(c)},
            {"correction", correctionText(c.correction)},
            {"history", historyText(c)}};
}

std::vector<DetailLine> versionLines(const Coupler& c, const Coupler* other)
{
    const auto newest = [](const Coupler& x) {
        return x.references.empty() ? std::string("none") : momentText(x.references.back().takenAt);
    };
    const auto count = [](const Coupler& x) { return countText(x.references.size(), "reference"); };
    std::vector<DetailLine> lines;
    const auto add = [&](const char* label, const auto& text, bool always) {
        const std::string value = text(c);
        const bool differs = other != nullptr && value != text(*other);
        if (always || differs)
            lines.push_back({label, value, differs});
    };
    add("newest reference", newest, true);
    add("history", count, true);
    add("offset", offsetText, true);
    add(
        "correction", [](const Coupler& x) { return correctionText(x.correction); }, true);
    add("response", responseText, false);
    add(
        "kind", [](const Coupler& x) { return orNone(x.kind); }, false);
    add(
        "serial", [](const Coupler& x) { return orNone(x.serial); }, false);
    add(
        "microphone", [](const Coupler& x) { return orNone(x.microphone); }, false);
    add("input, gain", inputText, false);
    add(
        "allowed age", [](const Coupler& x) { return fmt::format("{:g} h", x.allowedAge_h); }, false);
    return lines;
}

std::string questionWords(const ProfileQuestion& q)
{
    const auto name = inQuotes(q.session.name);
    switch (q.state) {
    case ProfileState::notInLibrary:
        return fmt::format("Coupler {} came with this session and is not in the library.", name);
    case ProfileState::libraryWentOn:
        return fmt::format("The library has {} of coupler {} that this session lacks.",
                           countText(q.onlyInLibrary, "reference"), name);
    case ProfileState::sessionWentOn:
        return fmt::format("This session has {} of coupler {} that the library lacks.",
                           countText(q.onlyInSession, "reference"), name);
    case ProfileState::differs:
        break;
    }
    return fmt::format("This session and the library hold two versions of coupler {}.", name);
}

std::string shortQuestionWords(const ProfileQuestion& q)
{
    switch (q.state) {
    case ProfileState::notInLibrary:
        return "in this session only";
    case ProfileState::libraryWentOn:
        return "the library has newer references";
    case ProfileState::sessionWentOn:
        return "the library lacks references";
    case ProfileState::differs:
        break;
    }
    return "the library has another version";
}

} // namespace couplet
