// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Plugin/LibraryKeeper.h"
#include "Plugin/LibraryView.h"

#include <juce_core/juce_core.h>

#include <cstdint>
#include <functional>
#include <memory>
#include <mutex>
#include <optional>
#include <string>
#include <vector>

// Purpose: one instance's dealings with the library: makes the view of session and library together, and carries out
//          what a screen asks for: files on the keeper's thread, the session on the message thread.
// Rules:   what is changed here by hand is changed in this session's copies as well, as long as they were the same as
//          the library's; any other difference becomes a question.
// Errors:  a sentence in the view.
// Thread:  message; it may be made and end on any but audio, when nothing else uses it any more.
namespace couplet {

class Processor;

class LibraryDesk final : public LibraryControls
{
public:
    explicit LibraryDesk(Processor&);

    // As the library stands, read on this thread.
    LibraryKeeper::Listing readNow() { return keeper->readNow(); }

    void tick(double now_s);
    const LibraryView& view() const { return shown; }
    // As the library stood at the last tick; null while it was not read yet.
    const LibraryKeeper::Listing& latest() const { return listing; }

    // Work on the keeper's thread, and what is to be done on the message thread when it has ended.
    using Ending = std::function<void()>;
    void onFiles(std::function<Ending(const Folder&)> work);

    void chooseCoupler(const std::string& name) override;
    void chooseNoCoupler() override;
    void putInSlot(const std::string& name, int slot) override;
    void make(const std::string& kind) override;
    void copy(const std::string& name) override;
    void rename(const std::string& name, const std::string& next) override;
    void remove(const std::string& name) override;
    void undo() override;
    void setFields(const std::string& name, const CouplerFields&) override;
    void attachResponse(const std::string& name, const std::filesystem::path&) override;
    void importFiles(const std::vector<std::filesystem::path>&) override;
    void answerImport(bool goOn) override;
    void exportTo(const std::string& name, const std::filesystem::path&) override;
    void answer(const ProfileQuestion&, ProfileAnswer) override;
    void forgetSaid() override;
    void listVersions(const std::string& name) override;
    void putBackVersion(const std::string& name, int number) override;

private:
    struct Inbox
    {
        std::mutex mutex;
        std::vector<Ending> endings;
    };

    struct Undo
    {
        std::string words;
        std::function<void()> action;
    };
    void say(std::string sentence, bool isFault = false);
    void refuse(const Fault& fault) { say(fault.sentence, true); }
    void done(std::string sentence, Undo);
    void select(const std::string& name);
    // Reads the coupler, changes it, saves it, and has the session's copies follow.
    using Change = std::function<std::optional<Fault>(Coupler&)>;
    void change(const std::string& name, Change, std::string sentence, std::string undoWords);
    // A coupler as it was before the change from `before` to `after`, in the library and the session.
    Undo wayBack(const Coupler& before, const Coupler& after, const std::string& words);
    void readVersions();
    void addNew(std::function<Outcome<std::string>(const Folder&)> add, const std::string& verb);
    void replaceInSession(const Coupler& before, const Coupler& after);
    void putInSlots(const std::vector<int>& slots, const std::optional<Coupler>&);
    void keepSessions(const ProfileQuestion&);
    void renameInEarphones(const std::string& from, const std::string& to);
    void renameInFit(const std::string& from, const std::string& to);
    void putBack(const std::string& name, const std::string& address);
    // Carries it out on the keeper's thread, when the desk may be gone already.
    static Ending importEnding(LibraryDesk*, const Folder&, const std::vector<Item>&);
    const CouplerRow* rowOf(const std::string& name) const;

    static std::vector<std::string> newKinds();
    void refresh();
    void fillRows(const Session&, const Folder::Listing&);
    void fillQuestions(const Session&, const Folder::Listing&);

    Processor& processor;
    juce::SharedResourcePointer<LibraryKeeper> keeper;
    std::shared_ptr<Inbox> inbox = std::make_shared<Inbox>();
    LibraryKeeper::Listing listing;
    int running = 0; // works on files that have not ended
    Undo last;
    std::vector<ProfileQuestion> left; // answered by leaving both
    std::vector<Item> toImport;
    std::string versionsOfCoupler; // empty: nobody asks for any
    std::uint64_t seenListing = 0, seenSession = 0, lookedFor = 0;
    double nextAges_s = 0.0;
    LibraryView shown;
};

} // namespace couplet
