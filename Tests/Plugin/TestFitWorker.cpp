// SPDX-License-Identifier: GPL-3.0-or-later
#include "Bench/SimulatedFit.h"
#include "Plugin/FitRig.h"
#include "Plugin/FitWorker.h"

#include <catch2/catch.hpp>
#include <fmt/format.h>

#include <atomic>
#include <chrono>
#include <thread>

using namespace couplet;
using namespace couplet::tests;

namespace {

std::shared_ptr<const FitInput> inputWith(std::size_t extraReadings)
{
    auto input = fitOnPaper(demoScenario());
    for (std::size_t n = 0; n < extraReadings; ++n)
        input.through.readings.push_back({113.3 + 0.001 * static_cast<double>(n), {}, {}, {}, {}});
    return std::make_shared<const FitInput>(std::move(input));
}

std::shared_ptr<const FitAnswer> answerTo(FitWorker& worker, std::uint64_t number, std::uint64_t wish)
{
    for (int n = 0; n < 60000; ++n) {
        const auto answer = worker.newest();
        if (answer != nullptr && answer->number == number && answer->wish == wish)
            return answer;
        std::this_thread::sleep_for(std::chrono::milliseconds(2));
    }
    return nullptr;
}

} // namespace

TEST_CASE("of a burst of questions only the last is worked out, and the one that was being worked on")
{
    FitWorker worker;
    for (std::uint64_t n = 1; n <= 60; ++n)
        worker.ask({n, 1, inputWith(n), 114.02, {}});
    const auto answer = answerTo(worker, 60, 1);
    REQUIRE(answer);
    REQUIRE(answer->fit);
    CHECK(answer->fit->through->count == 65);
    CHECK(answer->fitsWorked <= 3);
    CHECK_THAT(answer->words.headline, Catch::StartsWith("Take 1."));
}

TEST_CASE("what more readings would do follows the fit, and a newer question overtakes it")
{
    FitWorker worker;
    worker.ask({1, 1, inputWith(0), {}, 0.40});
    std::shared_ptr<const FitAnswer> first; // the fit is there before
    for (int n = 0; n < 5000 && first == nullptr; ++n) {
        first = worker.newest();
        std::this_thread::sleep_for(std::chrono::milliseconds(1));
    }
    REQUIRE(first);
    CHECK(first->fit);
    worker.ask({2, 2, inputWith(1), {}, 0.44});
    const auto answer = answerTo(worker, 2, 2);
    REQUIRE(answer);
    REQUIRE(answer->whatIf);
    const auto expected =
        readingsForU(answer->fit->evidence, answer->fit->through->count, *answer->fit->through->scatter_dB, 0.44);
    CHECK(answer->whatIf->more.ofFitting == expected.ofFitting);
    CHECK(answer->whatIf->more.ofThrough == expected.ofThrough);
    CHECK(answer->whatIf->pairs.size() == answer->fit->notToldApart.size());
    worker.ask({2, 3, inputWith(1), {}, 10.0}); // another wish of the same readings
    const auto next = answerTo(worker, 2, 3);
    REQUIRE(next);
    CHECK(next->fitsWorked == answer->fitsWorked);
    CHECK(next->whatIf->more.ofFitting.front() == std::size_t{0});
}

TEST_CASE("a worker ends in the midst of its work")
{
    for (int n = 0; n < 5; ++n) {
        FitWorker worker;
        worker.ask({1, 1, inputWith(0), {}, 0.01});
        std::this_thread::sleep_for(std::chrono::milliseconds(10 * n));
        const auto before = std::chrono::steady_clock::now();
        {
            const FitWorker other; // one that never worked ends at once
        }
        CHECK(std::chrono::steady_clock::now() - before < std::chrono::seconds(1));
    }
}

TEST_CASE("the page sees what more readings would do, and no longer when it is not asked for")
{
    FitRig t;
    t.fill(collarTable + "direct,cork,114.9\ndirect,cork,114.95\ndirect,cork,115.0\n" + phonesTable);
    t.processor.askWhatIf(2.0);
    CHECK(t.view().fit); // goes on being there
    REQUIRE(t.wait([](const FitView& v) { return !v.whatIfWorking; }));
    REQUIRE(t.view().whatIf);
    CHECK(t.view().whatIf->wantedU_dB == 2.0);
    CHECK(t.view().whatIf->more.ofFitting == std::vector<std::optional<std::size_t>>{0, 0});
    t.processor.addFitReading({FitKind::fitting, 0}, 114.7);
    CHECK(t.view().whatIfWorking);
    REQUIRE(t.wait([](const FitView& v) { return !v.whatIfWorking; }));
    REQUIRE(t.view().whatIf);
    t.processor.askWhatIf(std::nullopt);
    REQUIRE(t.wait([](const FitView& v) { return !v.whatIf; }));
}

TEST_CASE("a fit that is being worked out anew leaves the one before in sight, while its places are the same")
{
    FitRig t;
    t.fill(collarTable + phonesTable);
    const auto before = t.processor.fitView().fit->correction_dB();
    t.processor.addFitReading({FitKind::fitting, 0}, 114.9);
    if (t.processor.fitView().working) {
        REQUIRE(t.processor.fitView().fit);
        CHECK(t.processor.fitView().fit->correction_dB() == before);
    }
    REQUIRE(t.fitted());
    CHECK(t.view().fit->correction_dB() != before);
    t.processor.removeFitEarphone(0); // others stand in its place
    if (t.processor.fitView().working)
        CHECK_FALSE(t.processor.fitView().fit);
    REQUIRE(t.fitted());
    CHECK(t.view().fit->earphones.size() == 2);
}

TEST_CASE("ten thousand readings are fitted, kept and had back")
{
    FitRig t;
    std::string table;
    for (int n = 0; n < 5000; ++n)
        table += fmt::format("direct,collar,{:.3f}\nthrough,,{:.3f}\n", 114.7 + 0.05 * std::sin(1.7 * n),
                             113.3 + 0.04 * std::cos(2.3 * n));
    t.processor.pasteFitTable("kind,name,level_db\n" + table);
    REQUIRE(t.wait([](const FitView& v) { return v.fit && !v.working; }));
    CHECK(t.view().fit->fittings[0].count == 5000);
    CHECK(t.view().canUse);
    t.processor.addFitReading({FitKind::through, 0}, 113.3);
    REQUIRE(t.fitted());
    CHECK(t.view().fit->through->count == 5001);
    const auto saved = t.state();
    FitRig other;
    other.restore(saved);
    CHECK(other.rig.view().stateNotice.empty());
    CHECK(other.view().input.through.readings.size() == 5001);
    CHECK(other.state() == saved);
}

TEST_CASE("readings, state calls, audio and the worker go on at once")
{
    const FitLibrary library;
    Processor processor;
    processor.prepareToPlay(48000.0, 480);
    processor.putInSlot(1, std::optional(FitLibrary::uncorrected()));
    processor.chooseCouplerSlot(1);
    processor.addFitReading({FitKind::through, 0}, 113.0);
    juce::MemoryBlock start;
    processor.getStateInformation(start);

    std::atomic<bool> done{false};
    std::thread audio([&] {
        juce::AudioBuffer<float> buffer(2, 480);
        juce::MidiBuffer midi;
        double phase = 0.0;
        while (!done) {
            for (int i = 0; i < 480; ++i, phase += 0.1309)
                for (int c = 0; c < 2; ++c)
                    buffer.setSample(c, i, static_cast<float>(0.3 * std::sin(phase)));
            processor.processBlock(buffer, midi);
            std::this_thread::yield();
        }
    });
    std::thread states([&] {
        while (!done) {
            juce::MemoryBlock block;
            processor.getStateInformation(block);
            std::this_thread::sleep_for(std::chrono::milliseconds(3));
            processor.setStateInformation(start.getData(), static_cast<int>(start.getSize()));
        }
    });
    const auto end = juce::Time::getMillisecondCounter() + 3000;
    std::uint64_t seen = 0;
    for (int n = 0; juce::Time::getMillisecondCounter() < end; ++n) {
        processor.tick();
        const FitView pulled = processor.fitView();
        seen = std::max(seen, pulled.revision);
        switch (n % 9) {
        case 0:
            processor.addFitting("");
            break;
        case 1:
            processor.addFitReading({FitKind::fitting, 0}, 114.0 + 0.01 * (n % 7));
            break;
        case 2:
            processor.captureFitReadings(n % 2 == 0);
            break;
        case 3:
            processor.undoFit();
            break;
        case 4:
            processor.useCorrection();
            break;
        case 5:
            processor.askWhatIf(n % 4 == 1 ? std::optional(0.3) : std::nullopt);
            break;
        case 6:
            processor.nextFitTarget();
            break;
        case 7:
            processor.simulate(n % 5 == 0, {OnCoupler::What::calibrator});
            break;
        default:
            processor.pasteFitTable("kind,name,level_db\n" + collarTable);
        }
        std::this_thread::sleep_for(std::chrono::milliseconds(5));
    }
    done = true;
    audio.join();
    states.join();
    CHECK(seen > 10);
}
