// SPDX-License-Identifier: GPL-3.0-or-later
#include "Plugin/Rig.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <limits>
#include <thread>

using namespace couplet;
using namespace couplet::tests;

namespace {

// An editor that stays until the end of the scope, as a host has it.
class Open
{
public:
    explicit Open(Processor& p) : processor(p), editor(p.createEditorIfNeeded()) {}
    ~Open() { processor.editorBeingDeleted(editor.get()); }

private:
    Processor& processor;
    std::unique_ptr<juce::AudioProcessorEditor> editor;
};

#ifdef __SANITIZE_THREAD__
constexpr int pause_ms = 200; // the worker must keep up, or it begins anew
#else
constexpr int pause_ms = 20;
#endif

// Plays on until it is so, for audio here runs faster than the worker; false: it never was.
template <class IsSo> bool playUntil(Rig& rig, double level_dBFS, IsSo&& isSo, double frequency_Hz = 1000.0)
{
    const auto end = juce::Time::getMillisecondCounter() + 180000; // a sanitizer slows the worker
    while (juce::Time::getMillisecondCounter() < end) {
        if (isSo(rig.view()))
            return true;
        rig.play(0.2, level_dBFS, -200.0, frequency_Hz);
        juce::Thread::sleep(pause_ms);
        rig.settle();
    }
    return false;
}

bool isSettled(const LiveView& view)
{
    return view.spectrum && view.spectrum->averages == 8 && view.spectrum->bands[0].level_dB;
}

const SpectrumPoint& highest(const SpectrumReading& s)
{
    return *std::max_element(s.lines.begin(), s.lines.end(), [](const SpectrumPoint& a, const SpectrumPoint& b) {
        return a.level_dB.value_or(-300.0) < b.level_dB.value_or(-300.0);
    });
}

// How often the worker's thread has slept and woken; absent: there is no such thread.
std::optional<long> wakings()
{
    for (const auto& task : std::filesystem::directory_iterator("/proc/self/task")) {
        std::ifstream status(task.path() / "status");
        std::string word, name;
        status >> word >> name;
        if (name != "couplet-worker")
            continue;
        while (status >> word)
            if (word == "voluntary_ctxt_switches:") {
                long count = 0;
                status >> count;
                return count;
            }
    }
    return {};
}

} // namespace

TEST_CASE("while an editor looks, the spectrum has the tone's level, frequency and band at every usual rate")
{
    for (const double rate : {8000.0, 44100.0, 48000.0, 96000.0, 192000.0}) {
        Rig rig(rate);
        const Open editor(*rig.processor);
        rig.processor->showSpectrum(true);
        CAPTURE(rate);
        REQUIRE(playUntil(rig, -20.0, isSettled));
        const SpectrumReading& s = *rig.view().spectrum;
        CHECK(s.whyNot.empty());
        CHECK_FALSE(s.referenced);
        CHECK(s.length_s == Approx(0.7).margin(0.2));
        CHECK(highest(s).frequency_Hz == Approx(1000.0).margin(1.0));
        CHECK(*highest(s).level_dB == Approx(-20.0).margin(0.01));
        REQUIRE(s.bands.size() == 31);
        CHECK(*s.bands[17].level_dB == Approx(-20.0).margin(0.02));
        CHECK(s.bands[30].level_dB.has_value() == (rate >= 48000.0));
        REQUIRE(s.orders.size() == (rate > 8000.0 ? 9 : 2)); // below 4 kHz
        CHECK_FALSE(s.orders[0].belowTone_dB);               // a pure tone
    }
}

TEST_CASE("nobody looks without an editor, and then nothing is worked out and no thread wakes")
{
    Rig rig;
    rig.processor->showSpectrum(true);
    rig.play(3.0, -20.0);
    CHECK_FALSE(rig.view().spectrum);
    CHECK_FALSE(wakings());
    {
        const Open editor(*rig.processor);
        rig.processor->showSpectrum(false);
        rig.play(3.0, -20.0);
        CHECK_FALSE(rig.view().spectrum);
        CHECK_FALSE(wakings());
        rig.processor->showSpectrum(true);
        REQUIRE(playUntil(rig, -20.0, isSettled));
        CHECK(wakings());
    }
    rig.play(0.1, -20.0);
    CHECK_FALSE(rig.view().spectrum);
    juce::Thread::sleep(100); // it may still be in its pause
    const auto before = wakings();
    REQUIRE(before);
    for (int i = 0; i < 10; ++i) {
        rig.play(0.1, -20.0);
        juce::Thread::sleep(30);
    }
    CHECK(wakings() == before);
}

TEST_CASE("a reference makes lines and bands dB SPL, and hold keeps them as they are")
{
    Rig rig;
    const Open editor(*rig.processor);
    rig.processor->putInSlot(1, std::optional(referencedCoupler("coupler", 115.0)));
    rig.set(ParameterId::couplerSlot, 1);
    rig.processor->showSpectrum(true);
    REQUIRE(playUntil(rig, -20.0, isSettled));
    CHECK(rig.view().spectrum->referenced);
    CHECK(*highest(*rig.view().spectrum).level_dB == Approx(95.0).margin(0.01));
    CHECK(*rig.view().spectrum->bands[17].level_dB == Approx(95.0).margin(0.02));
    rig.set(ParameterId::couplerSlot, 0);
    CHECK(*highest(*rig.view().spectrum).level_dB == Approx(-20.0).margin(0.01));

    rig.processor->setHold(true);
    rig.settle();
    const auto held = rig.view().spectrum;
    rig.play(1.0, -40.0);
    juce::Thread::sleep(150);
    rig.settle();
    CHECK(rig.view().spectrum == held);
    rig.processor->setHold(false);
    CHECK(playUntil(rig, -40.0,
                    [](const LiveView& view) { return isSettled(view) && *highest(*view.spectrum).level_dB < -39.9; }));
}

TEST_CASE("the simulated bench has a spectrum, whose line at the tone is the reading")
{
    Rig rig;
    const Open editor(*rig.processor);
    rig.processor->simulate(true, {OnCoupler::What::earphone, 3, Side::left, {}});
    rig.processor->showSpectrum(true);
    REQUIRE(playUntil(rig, -200.0, [&](const LiveView& view) { // once it has been put in place
        return isSettled(view) && rig.measured_dB() &&
               std::abs(*highest(*view.spectrum).level_dB - *rig.measured_dB()) < 0.03;
    }));
    const SpectrumReading& s = *rig.view().spectrum;
    CHECK(s.referenced);
    CHECK(*highest(s).level_dB == Approx(*trueLevel_dBSPL(demoScenario(), rig.view().onSimulatedCoupler)).margin(0.05));
    CHECK(highest(s).frequency_Hz == Approx(rig.view().reading.tone.frequency->value).margin(1.0));
    CHECK(s.orders.size() == 9);
}

TEST_CASE("why there is no spectrum is said: no audio, a rate that cannot be measured, settling")
{
    const auto why = [](Rig& rig) { return rig.view().spectrum ? rig.view().spectrum->whyNot : std::string("absent"); };
    Rig silent;
    const Open editor(*silent.processor);
    silent.processor->showSpectrum(true);
    silent.settle();
    CHECK(why(silent).find("no audio arrives") != std::string::npos);
    silent.play(0.1, -20.0);
    CHECK(why(silent).find("the spectrum settles") != std::string::npos);
    CHECK(silent.view().spectrum->lines.empty());

    Rig slow(4000.0);
    const Open other(*slow.processor);
    slow.processor->showSpectrum(true);
    slow.play(0.5, -20.0);
    CHECK(why(slow).find("cannot measure at a sample rate of 4000 Hz") != std::string::npos);
    slow.processor->prepareToPlay(48000.0, 512);
    CHECK(playUntil(slow, -20.0, isSettled));
}

TEST_CASE("samples that are not finite are said, and the spectrum comes back behind them")
{
    Rig rig;
    const Open editor(*rig.processor);
    rig.processor->showSpectrum(true);
    REQUIRE(playUntil(rig, -20.0, isSettled));
    juce::AudioBuffer<float> buffer(2, 480);
    juce::MidiBuffer midi;
    for (int i = 0; i < 480; ++i)
        buffer.setSample(0, i, std::numeric_limits<float>::quiet_NaN());
    rig.processor->processBlock(buffer, midi);
    const auto end = juce::Time::getMillisecondCounter() + 10000;
    while (rig.view().spectrum->whyNot.empty() && juce::Time::getMillisecondCounter() < end) {
        juce::Thread::sleep(20);
        rig.settle();
    }
    CHECK(rig.view().spectrum->whyNot.find("not finite") != std::string::npos);
    REQUIRE(playUntil(rig, -30.0, isSettled));
    CHECK(*highest(*rig.view().spectrum).level_dB == Approx(-30.0).margin(0.01));
}

TEST_CASE("instances come and go on other threads while their spectra are worked out")
{
    std::atomic<int> faults{0}, told{0};
    std::vector<std::thread> hosts;
    for (int h = 0; h < 4; ++h)
        hosts.emplace_back([&, h] {
            for (int n = 0; n < 6; ++n) {
                AudioHalf audio;
                LiveSpectrum spectrum;
                audio.prepare(48000.0);
                std::thread device([&] {
                    const std::vector<float> samples(512, 0.25f);
                    const float* channels[] = {samples.data()};
                    for (int i = 0; i < 300; ++i) {
                        audio.process(channels, 1, 512, {});
                        if (i % 50 == h)
                            juce::Thread::sleep(10);
                    }
                });
                for (int i = 0; i < 8; ++i) {
                    spectrum.follow(i % 4 == 3 ? nullptr : audio.sampleFeed());
                    juce::Thread::sleep(5);
                    const auto newest = spectrum.newest();
                    if (newest != nullptr && !(newest->spectrum.sampleRate_Hz > 0.0))
                        ++faults;
                    if (i == 5)
                        audio.prepare(44100.0);
                }
                device.join();
                spectrum.follow(audio.sampleFeed());
                const std::vector<float> samples(512, 0.25f);
                const float* channels[] = {samples.data()};
                // A thread of low priority on a busy machine may be long in coming.
                for (int i = 0; i < 10000 && spectrum.newest() == nullptr; ++i) {
                    audio.process(channels, 1, 512, {}); // a break is told at once, or else the first spectrum
                    juce::Thread::sleep(2);
                }
                told += spectrum.newest() != nullptr ? 1 : 0;
            }
        });
    for (auto& host : hosts)
        host.join();
    CHECK(faults == 0);
    CHECK(told == 24);
}
