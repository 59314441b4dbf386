// SPDX-License-Identifier: GPL-3.0-or-later
#include "Command/ItemText.h"

#include "Library/Utf8.h"
#include "Metrology/Expanded.h"
#include "Quantities/QuantityText.h"

#include <fmt/format.h>

#include <algorithm>

namespace couplet {
namespace {

std::size_t widthOf(const std::string& text)
{
    const auto characters = charactersOf(text);
    return characters ? characters->size() : text.size();
}

std::string list(const std::vector<std::string>& parts)
{
    std::string text;
    for (const auto& part : parts)
        if (!part.empty())
            text += (text.empty() ? "" : ", ") + onOneLine(part);
    return text;
}

std::string ifAny(const std::optional<double>& U_dB)
{
    return U_dB ? fmt::format(" {}", uncertaintyText(*U_dB)) : std::string();
}

std::string markOf(bool simulated)
{
    return simulated ? "simulated" : "";
}

std::string uncertaintyOf(const Reference& reference)
{
    return ifAny(reference.missing.empty() ? std::optional(expand(reference.budget).U_dB) : std::nullopt);
}

std::string correctionText(const Correction& correction)
{
    return list({levelText(correction.value_dB) + ifAny(correction.U_dB) + " dB",
                 correction.includesCalibrator ? "calibrator included" : "",
                 correction.calibrator.empty() ? "" : "for " + correction.calibrator,
                 correction.frequency ? "at " + nominalFrequencyText(*correction.frequency) : "", correction.origin,
                 correction.date});
}

std::string toneText(const CertifiedTone& tone)
{
    return fmt::format("{}{} dB at {}", levelText(tone.level_dB), ifAny(tone.U_dB),
                       nominalFrequencyText(tone.frequency));
}

std::string pressureLawText(const PressureLaw& law)
{
    switch (law.kind) {
    case PressureLaw::Kind::piston:
        return "as a piston source";
    case PressureLaw::Kind::coefficient:
        return fmt::format("{:g} dB/kPa", law.dBPerKilopascal);
    case PressureLaw::Kind::none:
        return "regulates itself";
    case PressureLaw::Kind::notStated:
        break;
    }
    return "not stated";
}

std::string ratingWords(const Rating& rating)
{
    return list({ratingText(rating),
                 rating.frequency ? "at " + nominalFrequencyText(*rating.frequency) : "frequency not stated",
                 rating.tolerance_dB ? uncertaintyText(*rating.tolerance_dB) + " dB" : "tolerance not stated",
                 (rating.impedance ? impedanceText(*rating.impedance) : "") +
                     (rating.impedance && rating.impedanceTolerance
                          ? fmt::format(" \u00b1{:g} %", rating.impedanceTolerance->value)
                          : ""),
                 rating.ratedSource ? "behind " + impedanceText(*rating.ratedSource) : ""});
}

std::string classText(const std::optional<int>& number)
{
    return number ? fmt::format("class {}", *number) : std::string();
}

std::string summary(const Coupler& coupler)
{
    const auto* current = coupler.current();
    return list({coupler.kind,
                 current ? "offset " + levelText(current->offset_dB) + " dB of " + current->takenAt : "no reference",
                 coupler.correction ? "correction " + levelText(coupler.correction->value_dB) + " dB" : "",
                 coupler.slot != 0 ? fmt::format("slot {}", coupler.slot) : "", markOf(coupler.simulated)});
}

std::string summary(const Calibrator& calibrator)
{
    std::vector<std::string> parts = {classText(calibrator.calibratorClass)};
    for (const auto& tone : calibrator.tones)
        parts.push_back(toneText(tone));
    parts.push_back(markOf(calibrator.simulated));
    return list(parts);
}

std::string summary(const Earphone& earphone)
{
    return list({ratingWords(earphone.rating), earphone.keptAside ? "kept aside" : "", markOf(earphone.simulated)});
}

std::string summary(const DriveSource& source)
{
    return list({source.fullScale ? voltageText(*source.fullScale) + " at full scale" : "",
                 source.source ? "behind " + impedanceText(*source.source) : "",
                 source.meterAccuracy ? fmt::format("meter {:g} %", source.meterAccuracy->value) : ""});
}

std::vector<TextRow> details(const Coupler& coupler)
{
    std::vector<TextRow> rows = {{"kind", coupler.kind},
                                 {"serial", coupler.serial},
                                 {"microphone", coupler.microphone},
                                 {"input", coupler.input},
                                 {"gain", coupler.gainNote},
                                 {"correction", coupler.correction ? correctionText(*coupler.correction) : "none"},
                                 {"slot", coupler.slot != 0 ? fmt::format("{}", coupler.slot) : "none"},
                                 {"allowed age", fmt::format("{:g} h", coupler.allowedAge_h)}};
    rows.push_back({"response", coupler.response.empty()
                                    ? "no table"
                                    : list({fmt::format("{} rows", coupler.response.size()), coupler.responseSource})});
    for (const auto& reference : coupler.references)
        rows.push_back(
            {"reference",
             list({levelText(reference.offset_dB) + uncertaintyOf(reference) + " dB, " + reference.takenAt,
                   reference.calibrator,
                   "tone " + levelText(reference.tone_dBFS) + " dBFS at " + frequencyText(reference.frequency),
                   reference.source, reference.fitToUse ? "" : "not fit to use",
                   reference.moved_dB ? "kept although moved by " + signedLevelText(*reference.moved_dB) + " dB" : "",
                   reference.setAside.empty() ? "" : "set aside: " + reference.setAside})});
    if (coupler.references.empty())
        rows.push_back({"reference", "none"});
    rows.push_back({"bench", markOf(coupler.simulated)});
    return rows;
}

std::vector<TextRow> details(const Calibrator& calibrator)
{
    std::vector<TextRow> rows = {
        {"class", calibrator.calibratorClass ? fmt::format("{}", *calibrator.calibratorClass) : "not stated"},
        {"serial", calibrator.serial},
        {"certificate", calibrator.certificate},
        {"due", calibrator.due},
        {"static pressure", pressureLawText(calibrator.pressureLaw)}};
    for (const auto& tone : calibrator.tones)
        rows.push_back({"tone", toneText(tone)});
    rows.push_back({"bench", markOf(calibrator.simulated)});
    return rows;
}

std::vector<TextRow> details(const Earphone& earphone)
{
    std::vector<TextRow> rows = {{"rating", ratingWords(earphone.rating)},
                                 {"note", earphone.note},
                                 {"kept aside", earphone.keptAside ? "yes" : "no"}};
    for (const auto& coupler : earphone.choseCorrectionOf)
        rows.push_back({"chose correction of", coupler});
    rows.push_back({"bench", markOf(earphone.simulated)});
    return rows;
}

std::vector<TextRow> details(const DriveSource& source)
{
    return {
        {"full scale", source.fullScale ? voltageText(*source.fullScale) : "not stated"},
        {"source impedance", source.source ? impedanceText(*source.source) : "not stated"},
        {"meter accuracy", source.meterAccuracy ? fmt::format("{:g} %", source.meterAccuracy->value) : "not stated"}};
}

} // namespace

std::string alignedText(const std::vector<TextRow>& rows)
{
    std::vector<std::size_t> widths;
    for (const auto& row : rows) {
        widths.resize(std::max(widths.size(), row.size()));
        for (std::size_t i = 0; i < row.size(); ++i)
            widths[i] = std::max(widths[i], widthOf(row[i]));
    }
    std::string text;
    for (const auto& row : rows) {
        std::string line;
        std::size_t column = 0, begin = 0; // where the line is, and where the cell belongs
        for (std::size_t i = 0; i < row.size(); begin += widths[i++] + 2) {
            if (row[i].empty())
                continue;
            line += std::string(begin - column, ' ') + row[i];
            column = begin + widthOf(row[i]);
        }
        text += line + "\n";
    }
    return text;
}

std::string summaryOf(const Item& item)
{
    return std::visit([](const auto& each) { return summary(each); }, item);
}

std::string detailsOf(const Item& item)
{
    std::vector<TextRow> rows = {{kindOf(item), nameOf(item)}};
    for (auto& row : std::visit([](const auto& each) { return details(each); }, item))
        if (!row.back().empty())
            rows.push_back({std::move(row.front()), onOneLine(row.back())});
    return alignedText(rows);
}

} // namespace couplet
