// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Library/Folder.h"

#include <filesystem>
#include <string>

// Purpose: a folder of its own for one test, gone at its end, and the small things that tests of files need.
namespace couplet::tests {

class Scratch
{
public:
    // `name` is the folder's own, inside one that no other test has.
    explicit Scratch(const std::string& name = "library");
    Scratch(const Scratch&) = delete;
    Scratch& operator=(const Scratch&) = delete;
    ~Scratch();

    std::filesystem::path path;

private:
    std::filesystem::path outer;
};

// While it lives, such folders are in memory where the system has a place for that: where a test saves thousands of times
// and stops at the calls themselves, waiting for a disk at each would show nothing.
class InMemory
{
public:
    InMemory();
    InMemory(const InMemory&) = delete;
    InMemory& operator=(const InMemory&) = delete;
    ~InMemory();

private:
    std::string before;
};

std::string contentOfFile(const std::filesystem::path&);
void writeContent(const std::filesystem::path&, const std::string& content);

// The one file in `folder` whose name ends in `ending`; empty when there is none or more than one.
std::filesystem::path onlyFile(const std::filesystem::path& folder, const std::string& ending);

// Every optional field given, with figures that need all their digits.
Coupler fullCoupler(const std::string& name);
Calibrator fullCalibrator(const std::string& name);
Earphone fullEarphone(const std::string& name);
DriveSource fullDriveSource(const std::string& name);

// Complete, and told from others by its time and offset.
Reference referenceAt(const std::string& time, double offset_dB);

} // namespace couplet::tests
