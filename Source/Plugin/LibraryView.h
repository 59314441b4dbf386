// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Plugin/LiveView.h"
#include "Plugin/ProfileQuestions.h"

#include <cstdint>
#include <filesystem>
#include <memory>
#include <optional>
#include <string>
#include <vector>

// Purpose: the couplers that can be chosen, of the library and of the session, as a value for screens, and what a
//          screen may ask for. Cheap to copy: profiles are shared and never change.
// Units:   s, Hz, dB; allowed age in hours.
// Thread:  message.
namespace couplet {

struct CouplerRow
{
    std::shared_ptr<const Coupler> profile; // never null; the session's own where it has one
    int slot = 0;                           // of the session; 0: in none
    bool byHand = false;                    // the session's choice from beyond the slots
    bool inLibrary = false;
    ReferenceState reference = ReferenceState::none;
    std::optional<double> referenceAge_s;
};

// Items of a file that the library has otherwise: nothing of it is saved before this is answered.
struct ImportQuestion
{
    std::string file;
    std::vector<std::string> differing; // "coupler 'left bench': the library's was referenced 2026-05-03, ..."
    std::size_t fresh = 0, same = 0;    // items that the library lacks, and those that it has just so
};

// What a coupler was before its changes, the newest first.
struct VersionsView
{
    struct Row
    {
        int number = 0;     // its own for good
        std::string until;  // when it was replaced, UTC: "2026-05-03T12:04:11Z"
        std::string change; // what was changed then
        bool operator==(const Row&) const = default;
    };
    std::string coupler;
    std::vector<Row> rows;
    std::vector<std::string> unreadable; // a sentence each
    bool operator==(const VersionsView&) const = default;
};

struct LibraryView
{
    std::string folder;
    bool read = false;                      // the folder was looked at
    std::vector<CouplerRow> rows;           // the session's by slot, then the others by name
    std::vector<std::string> unreadable;    // a sentence each
    std::vector<ProfileQuestion> questions; // of the session against the library
    std::optional<ImportQuestion> import;
    std::optional<VersionsView> versions; // of the coupler that was asked about
    std::string undo;                     // what `undo` would bring back, in words; empty: nothing
    std::string said;                     // what became of the last request, in a sentence
    bool refused = false;                 // it is a fault
    bool busy = false;                    // a request is being carried out
    std::vector<std::string> newKinds;    // what `make` knows
    std::string newest;                   // the coupler that was made, copied or renamed last
    int made = 0;                         // how often that happened
    std::uint64_t revision = 0;           // another number whenever anything above may have changed
};

// What a person may change by hand; the rest comes by measuring.
struct CouplerFields
{
    std::string kind, serial, microphone, input, gainNote;
    double allowedAge_h = 24.0;
    bool operator==(const CouplerFields&) const = default;
};
inline CouplerFields fieldsByHand(const Coupler& c)
{
    return {c.kind, c.serial, c.microphone, c.input, c.gainNote, c.allowedAge_h};
}

// Each is carried out in the background, in order; the view says when and how it ended.
class LibraryControls
{
public:
    virtual ~LibraryControls() = default;
    virtual void chooseCoupler(const std::string& name) = 0; // its slot where it has one, else by hand
    virtual void chooseNoCoupler() = 0;
    virtual void putInSlot(const std::string& name, int slot) = 0; // 1 to 16 of the session
    virtual void make(const std::string& kind) = 0;                // under a name that is free
    virtual void copy(const std::string& name) = 0;
    virtual void rename(const std::string& name, const std::string& next) = 0;
    virtual void remove(const std::string& name) = 0;
    virtual void undo() = 0; // of what changed a profile or the session's slots last
    virtual void setFields(const std::string& name, const CouplerFields&) = 0;
    virtual void attachResponse(const std::string& name, const std::filesystem::path&) = 0;
    virtual void importFiles(const std::vector<std::filesystem::path>&) = 0;
    virtual void answerImport(bool goOn) = 0; // go on: what differs joins the library's, histories merged
    virtual void exportTo(const std::string& name, const std::filesystem::path&) = 0; // "": the whole library
    virtual void answer(const ProfileQuestion&, ProfileAnswer) = 0;
    virtual void forgetSaid() = 0;                          // it was read
    virtual void listVersions(const std::string& name) = 0; // from now on; "": of none
    virtual void putBackVersion(const std::string& name, int number) = 0;
};

} // namespace couplet
