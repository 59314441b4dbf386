// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Plugin/LibraryView.h"

#include <string>
#include <vector>

// Purpose: writes down what a screen asked of the library, and does nothing.
namespace couplet {

class IdleLibrary : public LibraryControls
{
public:
    std::vector<std::string> asked;
    CouplerFields fields;

    void chooseCoupler(const std::string& name) override { note("choose " + name); }
    void chooseNoCoupler() override { note("choose none"); }
    void putInSlot(const std::string& name, int slot) override { note("slot " + std::to_string(slot) + " " + name); }
    void make(const std::string& kind) override { note("make " + kind); }
    void copy(const std::string& name) override { note("copy " + name); }
    void rename(const std::string& name, const std::string& next) override { note("rename " + name + " > " + next); }
    void remove(const std::string& name) override { note("remove " + name); }
    void undo() override { note("undo"); }
    void setFields(const std::string& name, const CouplerFields& next) override
    {
        fields = next;
        note("fields " + name);
    }
    void attachResponse(const std::string& name, const std::filesystem::path& path) override
    {
        note("response " + name + " " + path.string());
    }
    void importFiles(const std::vector<std::filesystem::path>& paths) override
    {
        for (const auto& path : paths)
            note("import " + path.string());
    }
    void answerImport(bool goOn) override { note(goOn ? "import all the same" : "import nothing"); }
    void exportTo(const std::string& name, const std::filesystem::path& path) override
    {
        note("export " + name + " " + path.string());
    }
    void answer(const ProfileQuestion& question, ProfileAnswer answer) override
    {
        note("answer " + question.session.name + " " + std::to_string(static_cast<int>(answer)));
    }
    void forgetSaid() override { note("read"); }
    void listVersions(const std::string& name) override { note("versions " + name); }
    void putBackVersion(const std::string& name, int number) override
    {
        note("version " + std::to_string(number) + " " + name);
    }

private:
    void note(const std::string& what) { asked.push_back(what); }
};

} // namespace couplet
