// SPDX-License-Identifier: GPL-3.0-or-later
#include "Command/Options.h"

#include <algorithm>

namespace couplet {
namespace {

const OptionSpec channelOfTake{"channel", "N", "the take's channel, counted from 1; without it the first"};

VerbSpec demoVerb()
{
    return {"demo",
            "Plays the whole job on a simulated bench whose truth is known.",
            "[--out DIR]",
            {},
            0,
            {{"out", "DIR", "folder for the library and whatever else the demonstration writes"}},
            {"couplet demo --out demo"}};
}

std::vector<OptionSpec> readOptions()
{
    return {
        channelOfTake,
        {"coupler", "NAME", "coupler of the library whose reference gives the offset"},
        {"offset", "121.97dB", "dB SPL at 0 dBFS, in place of a coupler"},
        {"offset-uncertainty", "0.47dB", "expanded uncertainty of that offset"},
        {"offset-frequency", "1kHz", "frequency it was found at; without it 1 kHz is assumed"},
        {"earphone", "NAME", "earphone of the library"},
        {"rating", "118.7dB/V", "its maker's rating: 118.7dB/V, 105dB/mW or 102dB@250mV"},
        {"rating-frequency", "500Hz", "frequency the rating was stated for"},
        {"rating-tolerance", "1dB", "the rating's tolerance, a half-width"},
        {"impedance", "24ohm", "the earphone's rated impedance"},
        {"impedance-tolerance", "20%", "how far its true impedance may be off; without it 20 % is assumed"},
        {"rating-source-impedance", "120ohm",
         "the rating's voltage, or that of its milliwatt, is an e.m.f. behind this; 0ohm: it is at the connector"},
        {"side", "left|right", "side that is on the coupler"},
        {"source-impedance", "1ohm", "the drive is an open-circuit voltage behind this"},
        {"across", "", "the drive is the voltage across the earphone; one of these two is needed"},
        {"drive", "123.2mV", "drive voltage, RMS"},
        {"drive-channel", "N", "channel of the take that senses the drive"},
        {"drive-full-scale", "2.00V", "RMS of a full-scale sine on that channel"},
        {"meter-accuracy", "0.5%", "accuracy of the typed reading, or of the one that taught the full scale"},
        {"largest-uncertainty", "1.5dB", "above this U the verdict is 'too uncertain to say'"},
        {"keep", "", "append the reading to the library's readings"},
    };
}

VerbSpec readVerb()
{
    return {"read",
            "Reads the tone in a take and holds it against what the earphone should do.",
            "TAKE [--channel N]\n"
            "[--coupler NAME | --offset 121.97dB [--offset-uncertainty 0.47dB]\n"
            "    [--offset-frequency 1kHz]]\n"
            "[--earphone NAME | --rating 118.7dB/V [--rating-frequency 500Hz]\n"
            "    [--rating-tolerance 1dB] [--impedance 24ohm]\n"
            "    [--impedance-tolerance 20%] [--rating-source-impedance 120ohm]]\n"
            "[--side left|right] [--keep]\n"
            "[(--drive 123.2mV | --drive-channel N --drive-full-scale 2.00V)\n"
            "    (--source-impedance 1ohm | --across) [--meter-accuracy 0.5%]]\n"
            "[--largest-uncertainty 1.5dB]",
            {"TAKE"},
            1,
            readOptions(),
            {"couplet read left.wav --coupler bench --rating 112.4dB/V",
             "--rating-frequency 500Hz --rating-tolerance 1dB --impedance 24ohm",
             "--source-impedance 1ohm --drive 123.2mV --meter-accuracy 0.5%"}};
}

VerbSpec levelsVerb()
{
    return {"levels",
            "Broadband levels of a take: A, C and Z, Fast and Slow, Leq and exposure.",
            "TAKE [--channel N] [--coupler NAME |\n"
            "    --offset 121.97dB [--offset-uncertainty 0.47dB]]",
            {"TAKE"},
            1,
            {channelOfTake,
             {"coupler", "NAME", "coupler of the library whose reference gives the offset"},
             {"offset", "121.97dB", "dB SPL at 0 dBFS, in place of a coupler"},
             {"offset-uncertainty", "0.47dB", "expanded uncertainty of that offset"}},
            {"couplet levels noise.wav --offset 121.97dB"}};
}

std::vector<OptionSpec> referenceOptions()
{
    return {
        {"coupler", "NAME", "coupler that the calibrator sits on"},
        channelOfTake,
        {"correction", "1.36dB", "what the coupler takes away from this calibrator's level"},
        {"correction-uncertainty", "0.45dB", "expanded uncertainty of the correction"},
        {"correction-includes-calibrator", "", "that uncertainty already holds the calibrator's certificate"},
        {"calibrator", "NAME", "calibrator of the library"},
        {"level", "114.02dB", "certified level of a calibrator that is typed; with --calibrator, which of its levels"},
        {"frequency", "1000Hz", "its frequency; without it the calibrator's, else the nearer of 250 Hz and 1 kHz"},
        {"level-uncertainty", "0.15dB", "expanded uncertainty of that level"},
        {"class", "1|2", "the calibrator's class after IEC 60942"},
        {"pressure", "98.6kPa", "static pressure on the bench"},
        {"pressure-law", "none|piston",
         "the calibrator regulates itself, or follows static pressure as a piston source"},
        {"second-level", "TAKE", "the calibrator's other level: checks the input's linearity"},
        {"seating-uncertainty", "0.10dB", "of one seating; of several takes their scatter stands for it"},
        {"drift-uncertainty", "0.04dB", "of the input since the reference"},
        {"linearity-uncertainty", "0.06dB", "of the input's gain between levels; a second level's step stands for it"},
        {"pressure-uncertainty", "0.2kPa", "the barometer's expanded uncertainty"},
        {"response-uncertainty", "0.10dB", "of the microphone without a table; with --keep, for readings"},
        {"insertion-uncertainty", "0.22dB", "of one insertion; with --keep, for readings"},
        {"coupler-uncertainty", "0.40dB", "of the coupler away from this frequency; with --keep, for readings"},
        {"keep", "", "keep the reference and these terms in the library; a new coupler is made"},
        {"although-moved", "", "with --keep: the change is meant, a gain or a microphone; the reference bears a mark"},
        {"check", "", "does the last reference still hold? Nothing is stored"},
        {"history", "", "the coupler's references with mean, limits, drift and due date"},
        {"csv", "", "the history as CSV"},
        {"set-aside", "TIME", "the reference taken then no longer counts; it is never deleted"},
        {"reason", "TEXT", "why it is set aside"},
        {"put-back", "TIME", "the reference taken then counts again"},
    };
}

VerbSpec referenceVerb()
{
    return {"reference",
            "Finds from takes of the calibrator, one a seating, what full scale stands for.",
            "TAKE... --coupler NAME [--channel N] [--second-level TAKE]\n"
            "[--correction 1.36dB [--correction-uncertainty 0.45dB]\n"
            "    [--correction-includes-calibrator]]\n"
            "(--calibrator NAME [--level 114.02dB] | --level 114.02dB\n"
            "    [--level-uncertainty 0.15dB] [--class 1|2]\n"
            "    [--pressure-law none|piston]) [--frequency 1000Hz]\n"
            "[--pressure 98.6kPa [--pressure-uncertainty 0.2kPa]]\n"
            "[--seating-uncertainty 0.10dB] [--drift-uncertainty 0.04dB]\n"
            "[--linearity-uncertainty 0.06dB]\n"
            "[--response-uncertainty 0.10dB]\n"
            "[--insertion-uncertainty 0.22dB]\n"
            "[--coupler-uncertainty 0.40dB]\n"
            "[--keep [--although-moved] | --check]\n"
            "--history [--csv] |\n"
            "--set-aside TIME --reason TEXT | --put-back TIME",
            {"TAKE", "TAKE", "TAKE", "TAKE", "TAKE", "TAKE", "TAKE", "TAKE", "TAKE"},
            0,
            referenceOptions(),
            {"couplet reference calibrator.wav --coupler bench --level 114.02dB",
             "--level-uncertainty 0.15dB --class 1 --correction 1.36dB", "--correction-uncertainty 0.45dB --keep"}};
}

VerbSpec fitVerb()
{
    return {"fit",
            "Finds how much a coupler takes away from a calibrator's level, from repeated readings.",
            "READINGS.csv [--coupler NAME]\n"
            "[--calibrator-uncertainty 0.15dB | --calibrator NAME]\n"
            "[--transfer-uncertainty 0.30dB] [--adapter-uncertainty 0.20dB]\n"
            "[--seating-uncertainty 0.10dB] [--frequency 1000Hz]\n"
            "[--wanted-uncertainty 0.40dB] [--keep]",
            {"READINGS.csv"},
            1,
            {{"coupler", "NAME", "coupler that the correction is for"},
             {"calibrator-uncertainty", "0.15dB", "expanded uncertainty of the calibrator's level"},
             {"calibrator", "NAME",
              "calibrator of the library, in place of its uncertainty; else the column 'calibrator' names it"},
             {"transfer-uncertainty", "0.30dB",
              "expanded uncertainty of taking it over from another coupler; 0dB: it is the same"},
             {"adapter-uncertainty", "0.20dB", "expanded uncertainty of the adapter"},
             {"seating-uncertainty", "0.10dB", "expanded uncertainty of seating the reference"},
             {"frequency", "1000Hz",
              "frequency that the readings were made at; else the calibrator's or the column 'frequency_hz'"},
             {"wanted-uncertainty", "0.40dB", "tell how many more readings would bring U to this"},
             {"keep", "", "keep the correction in the coupler, and mark the earphones that chose it"}},
            {"couplet fit readings.csv --calibrator-uncertainty 0.15dB", "--frequency 1000Hz --coupler bench --keep"}};
}

VerbSpec libraryVerb()
{
    return {"library",
            "Shows and changes the library of couplers, calibrators and earphones.",
            "list | show NAME | add FILE | remove NAME |\n"
            "versions NAME | putback NAME [--version N] |\n"
            "rename NAME NEW-NAME | copy NAME | presets |\n"
            "export FILE [--only NAME] | import FILE",
            {"list|show|add|remove|versions|putback|rename|copy|presets|export|import", "NAME or FILE", "NEW-NAME"},
            1,
            {{"only", "NAME", "export this item alone; a coupler with the calibrators it names"},
             {"version", "N", "put back this version, by its number; without it, what was removed"}},
            {"couplet library putback bench --version 3"}};
}

VerbSpec reportVerb()
{
    return {"report",
            "Writes the readings that were kept as a page of their own.",
            "[--coupler NAME] [--out FILE.html]",
            {},
            0,
            {{"coupler", "NAME", "only the readings made with this coupler"}, {"out", "FILE.html", "the page's file"}},
            {"couplet report --coupler bench --out bench.html"}};
}

} // namespace

const std::vector<OptionSpec>& optionsOfEveryVerb()
{
    static const std::vector<OptionSpec> options = {
        {"library", "DIR", "the library's folder; without it COUPLET_LIBRARY, else the user's data folder"},
        {"json", "", "one JSON object on standard output, nothing else there"},
        {"help", "", "this text"},
    };
    return options;
}

const std::vector<VerbSpec>& verbs()
{
    static const std::vector<VerbSpec> all = {demoVerb(), readVerb(),    levelsVerb(), referenceVerb(),
                                              fitVerb(),  libraryVerb(), reportVerb()};
    return all;
}

const VerbSpec* verbNamed(std::string_view name)
{
    const auto found = std::find_if(verbs().begin(), verbs().end(), [&](const auto& v) { return v.name == name; });
    return found == verbs().end() ? nullptr : &*found;
}

const OptionSpec* VerbSpec::option(std::string_view wanted) const
{
    for (const auto* list : {&options, &optionsOfEveryVerb()})
        for (const auto& each : *list)
            if (each.name == wanted)
                return &each;
    return nullptr;
}

std::vector<std::string> VerbSpec::optionNames() const
{
    std::vector<std::string> names;
    for (const auto* list : {&options, &optionsOfEveryVerb()})
        for (const auto& each : *list)
            names.emplace_back(each.name);
    return names;
}

std::string optionText(const OptionSpec& option)
{
    return "--" + std::string(option.name) + (option.value.empty() ? "" : " ") + std::string(option.value);
}

} // namespace couplet
