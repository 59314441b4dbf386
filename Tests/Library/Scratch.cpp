// SPDX-License-Identifier: GPL-3.0-or-later
#include "Library/Scratch.h"

#include <cstdlib>
#include <fstream>
#include <iterator>

namespace couplet::tests {

namespace fs = std::filesystem;

Scratch::Scratch(const std::string& name)
{
    auto pattern = (fs::temp_directory_path() / "couplet-test-XXXXXX").string();
    outer = ::mkdtemp(pattern.data());
    path = outer / name;
    fs::create_directories(path);
}

Scratch::~Scratch()
{
    std::error_code ignored;
    fs::remove_all(outer, ignored);
}

InMemory::InMemory() : before(fs::temp_directory_path().string())
{
    if (fs::is_directory("/dev/shm"))
        ::setenv("TMPDIR", "/dev/shm", 1); // NOLINT(concurrency-mt-unsafe): tests that use it have one thread
}

InMemory::~InMemory()
{
    ::setenv("TMPDIR", before.c_str(), 1); // NOLINT(concurrency-mt-unsafe): likewise
}

std::string contentOfFile(const fs::path& file)
{
    std::ifstream in(file, std::ios::binary);
    return {std::istreambuf_iterator<char>(in), {}};
}

void writeContent(const fs::path& file, const std::string& content)
{
    std::ofstream(file, std::ios::binary) << content;
}

fs::path onlyFile(const fs::path& folder, const std::string& ending)
{
    fs::path found;
    for (const auto& entry : fs::directory_iterator(folder)) {
        if (!entry.path().filename().string().ends_with(ending))
            continue;
        if (!found.empty())
            return {};
        found = entry.path();
    }
    return found;
}

Reference referenceAt(const std::string& time, double offset_dB)
{
    Reference reference;
    reference.takenAt = time;
    reference.offset_dB = offset_dB;
    reference.tone_dBFS = 114.02 - offset_dB;
    reference.frequency = Hertz{1000.0};
    reference.sampleRate_Hz = 48000.0;
    reference.calibrator = "typed: 114.02 dB";
    reference.source = "take.wav";
    return reference;
}

Coupler fullCoupler(const std::string& name)
{
    Coupler coupler;
    coupler.name = name;
    coupler.kind = "ear simulator IEC 60318-4";
    coupler.serial = "007";
    coupler.microphone = "half-inch, pressure";
    coupler.input = "interface, input 2";
    coupler.gainNote = "gain at the \"notch\", pad\toff";
    coupler.response = {{Hertz{20.0}, -0.1}, {Hertz{1000.0 / 3.0}, 1.0 / 3.0}, {Hertz{20000.0}, -2.5}};
    coupler.responseSource = "table.txt";
    coupler.correction =
        Correction{1.364, 0.45, true, "calibrator A", Hertz{1000.0}, "fit of 2026-05-03", "2026-05-03", {}};
    coupler.correction->chosenBy = {"earphone P", "Q \"left\""};
    auto reference = referenceAt("2026-05-03T12:04:11Z", 121.96999999999998);
    reference.addends = {{"calibrator", 114.02}, {"tone", 7.9499999999999993}};
    reference.budget = {{"certificate", 0.075, infiniteDegrees, Shape::normal, "certificate"},
                        {"seating", 0.1 / 3.0, 2.0, Shape::rectangular, "assumed"}};
    reference.missing = {"the pressure"};
    reference.calibratorClass = 1;
    reference.pressure = Kilopascals{98.6};
    reference.channel = 2;
    reference.fitToUse = false;
    reference.setAside = "the gain was changed";
    reference.correction = Correction{1.2, {}, false, "", {}, "typed", "", std::vector<std::string>{}};
    reference.moved_dB = -16.02;
    coupler.references = {reference, referenceAt("2026-05-04T12:00:00+02:00", 122.0)};
    coupler.allowedAge_h = 36.0;
    coupler.slot = 16;
    coupler.simulated = true;
    return coupler;
}

Calibrator fullCalibrator(const std::string& name)
{
    Calibrator calibrator;
    calibrator.name = name;
    calibrator.serial = "12";
    calibrator.certificate = "4711 of 2026-01-02";
    calibrator.calibratorClass = 1;
    calibrator.tones = {{Hertz{1000.0}, 114.02, 0.15}, {Hertz{250.0}, 94.03, std::nullopt}};
    calibrator.pressureLaw = {PressureLaw::Kind::coefficient, -0.0081};
    calibrator.due = "2027-01-02";
    calibrator.simulated = true;
    return calibrator;
}

Earphone fullEarphone(const std::string& name)
{
    Earphone earphone;
    earphone.name = name;
    earphone.note = "large tips";
    earphone.rating = {
        Rating::Form::atVoltage, 94.0, Volts{0.0123}, Ohms{120.0}, Hertz{500.0}, 1.0 + 1e-9, Ohms{24.0}, Percent{10.0}};
    earphone.keptAside = true;
    earphone.choseCorrectionOf = {"bench", "other bench"};
    earphone.simulated = true;
    return earphone;
}

DriveSource fullDriveSource(const std::string& name)
{
    return {name, Volts{2.0 / 3.0}, Ohms{1.0}, Percent{0.5}};
}

} // namespace couplet::tests
