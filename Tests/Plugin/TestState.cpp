// SPDX-License-Identifier: GPL-3.0-or-later
#include "Library/Scratch.h"
#include "Plugin/Rig.h"

#include <catch2/catch.hpp>

#include <cstdlib>

using namespace couplet;
using namespace couplet::tests;

namespace {

std::string stateOf(Processor& processor)
{
    juce::MemoryBlock block;
    processor.getStateInformation(block);
    return block.toString().toStdString();
}

void restore(Processor& processor, const std::string& text)
{
    processor.setStateInformation(text.data(), static_cast<int>(text.size()));
}

// Every slot and parameter away from where it starts.
void fill(Processor& processor)
{
    for (int slot = 1; slot <= 16; ++slot)
        processor.putInSlot(slot, std::optional(fullCoupler("coupler " + std::to_string(slot))));
    for (int slot = 1; slot <= 32; ++slot)
        processor.putInSlot(slot, std::optional(fullEarphone("earphone " + std::to_string(slot))));
    processor.chooseCouplerByHand(fullCoupler("by hand"));
    processor.chooseEarphoneByHand(fullEarphone("by hand"));
    for (std::size_t i = 0; i < parameterCount; ++i) {
        const auto& line = parameterLines()[i];
        processor.parameters.set(static_cast<ParameterId>(i), i % 2 == 0 ? line.high : 0.37 * line.high);
    }
}

} // namespace

TEST_CASE("a state comes back whole and is saved again with the same bytes")
{
    Processor first, second;
    fill(first);
    const auto saved = stateOf(first);
    CHECK(stateOf(first) == saved);
    restore(second, saved);
    CHECK(second.sessionNow() == first.sessionNow());
    CHECK(second.parameters.values() == first.parameters.values());
    CHECK(stateOf(second) == saved);
}

TEST_CASE("a new instance's state is the same at any time, and so is its copy")
{
    Processor first;
    juce::Thread::sleep(5);
    Processor second;
    CHECK(stateOf(first) == stateOf(second));
    restore(second, stateOf(first));
    CHECK(stateOf(first) == stateOf(second));
}

TEST_CASE("a parameter that went through the host's 0 to 1 is the same value")
{
    Processor processor;
    for (const double drive_mV : {0.0123, 62.4, 123.2, 138.0, 999.99, 1234.5, 20000.0}) {
        auto& parameter = processor.parameters.at(ParameterId::driveVoltage);
        processor.parameters.set(ParameterId::driveVoltage, drive_mV);
        CHECK(processor.parameters.exact(ParameterId::driveVoltage) == drive_mV);
        const float share = static_cast<juce::AudioProcessorParameter&>(parameter).getValue();
        parameter.setValueNotifyingHost(share);
        CHECK(processor.parameters.exact(ParameterId::driveVoltage) == drive_mV);
    }
}

TEST_CASE("the state of version 1 loads, now and ever")
{
    const auto text = contentOfFile(std::filesystem::path(COUPLET_STATES) / "version-1.json");
    REQUIRE_FALSE(text.empty());
    Processor processor;
    restore(processor, text);
    const auto session = processor.sessionNow();
    REQUIRE(session.couplers[3]);
    CHECK(session.couplers[3]->name == "Bench coupler");
    REQUIRE(session.couplers[3]->current() != nullptr);
    CHECK(session.couplers[3]->current()->offset_dB == 121.97);
    REQUIRE(session.earphones[2]);
    CHECK(session.earphones[2]->name == "Earphone S");
    CHECK(processor.parameters.whole(ParameterId::couplerSlot) == 3);
    CHECK(processor.parameters.exact(ParameterId::driveVoltage) == 123.2);
    CHECK(stateOf(processor) == text);
}

TEST_CASE("a later parameter is in a session's text only where it is not as it starts, and comes back")
{
    Processor processor, other;
    const auto plain = stateOf(processor);
    CHECK(plain.find("pass_input") == std::string::npos);
    for (const auto choice : {PassInput::notAtAll, PassInput::unguarded}) {
        processor.parameters.set(ParameterId::passInput, static_cast<double>(choice));
        const auto text = stateOf(processor);
        CHECK(text.find("\"pass_input\": " + std::to_string(static_cast<int>(choice))) != std::string::npos);
        restore(other, text);
        CHECK(passInputOf(other.parameters) == choice);
        CHECK(stateOf(other) == text);
    }
    restore(other, plain); // from before there was such a parameter
    CHECK(passInputOf(other.parameters) == PassInput::guarded);
    auto wrong = stateOf(processor);
    wrong.replace(wrong.find("\"pass_input\": 2"), 15, "\"pass_input\": 3");
    restore(other, wrong);
    CHECK(stateOf(other) == wrong); // refused and handed back
    CHECK(passInputOf(other.parameters) == PassInput::guarded);
}

TEST_CASE("a newer version is refused with a sentence and handed back untouched")
{
    const std::string newer = R"({"kind":"session","unheard":[1,2],  "version":2})";
    Rig rig;
    rig.processor->putInSlot(1, std::optional(referencedCoupler("kept", 100.0)));
    restore(*rig.processor, newer);
    rig.settle();
    CHECK(rig.view().stateNotice.find("version is 2, but this Couplet reads version 1") != std::string::npos);
    CHECK(rig.view().stateNotice.find("not saved") != std::string::npos);
    CHECK(stateOf(*rig.processor) == newer);
    rig.set(ParameterId::couplerSlot, 1);
    CHECK(stateOf(*rig.processor) == newer);
    CHECK(rig.processor->sessionNow().couplers[1]->name == "kept");

    Processor other;
    restore(*rig.processor, stateOf(other));
    rig.settle();
    CHECK(rig.view().stateNotice.empty());
    CHECK(stateOf(*rig.processor) == stateOf(other));
}

TEST_CASE("a damaged state is refused with its place, changes nothing and is handed back")
{
    Processor good;
    fill(good);
    const auto whole = stateOf(good);
    const auto without = [&](const std::string& piece, const std::string& instead) {
        auto text = whole;
        text.replace(text.find(piece), piece.size(), instead);
        return text;
    };
    const std::pair<std::string, const char*> damaged[] = {
        {whole.substr(0, whole.size() / 2), "this session's state"},
        {"", ""},
        {"no state at all", "this session's state"},
        {without("\"coupler_slot\": 16", "\"coupler_slot\": 17"), "parameters.coupler_slot"},
        {without("\"weighting\"", "\"weighing\""), "parameters.weighting"},
        {without("\"kind\": \"session\"", "\"kind\": \"session\", \"more\": 1"), "more"},
        {without("\"kind\": \"coupler\"", "\"kind\": \"earphone\""), "couplers[0]"},
        {without("\"slot\": 1\n", "\"slot\": 2\n"), "slot"},
    };
    for (const auto& [text, place] : damaged) {
        if (text.empty())
            continue;
        Rig rig;
        const auto before = rig.processor->sessionNow();
        restore(*rig.processor, text);
        rig.settle();
        CAPTURE(text.substr(0, 60), place, rig.view().stateNotice);
        CHECK(rig.view().stateNotice.find(place) != std::string::npos);
        CHECK(rig.processor->sessionNow() == before);
        CHECK(stateOf(*rig.processor) == text);
    }
}

TEST_CASE("a session starts with the library's couplers by slot and its earphones by name")
{
    const Scratch scratch;
    const Folder library(scratch.path);
    auto coupler = fullCoupler("in the library");
    coupler.slot = 5;
    auto other = fullCoupler("without a slot");
    other.slot = 0;
    REQUIRE(library.save(coupler));
    REQUIRE(library.save(other));
    REQUIRE(library.save(fullEarphone("B")));
    REQUIRE(library.save(fullEarphone("A")));
    const auto session = sessionFrom(library.list());
    REQUIRE(session.couplers[5]);
    CHECK(*session.couplers[5] == coupler);
    CHECK(std::count_if(session.couplers.begin(), session.couplers.end(), [](const auto& c) { return !!c; }) == 1);
    CHECK(session.earphones[1]->name == "A");
    CHECK(session.earphones[2]->name == "B");
    CHECK_FALSE(session.earphones[3]);
}
