// SPDX-License-Identifier: GPL-3.0-or-later
#include "Bench/Session.h"

#include "Library/Fields.h"

#include <fmt/format.h>

#include <algorithm>

namespace couplet {
namespace {

const std::string where = "this session's state";

// An item as its file has it, with the slot beside it: a session's slots are its own.
template <class T> void putItem(JsonList& list, int slot, const std::optional<T>& item)
{
    if (!item)
        return;
    const auto profile = parsedJson(textOf(Item(*item)), item->name, largestBundle_bytes);
    if (profile) // what the library prints it can read, but for figures that are not finite
        list.push_back(JsonObject{{"profile", *profile}, {"slot", slot}});
}

template <class Slots> JsonList listOf(const Slots& slots)
{
    JsonList list;
    for (std::size_t slot = 0; slot < slots.size(); ++slot)
        putItem(list, static_cast<int>(slot), slots[slot]);
    return list;
}

JsonObject objectOf(const ParameterValues& values)
{
    JsonObject object;
    for (std::size_t i = 0; i < parameterCount; ++i)
        if (i < firstParameterCount || values[i] != parameterLines()[i].initial)
            object.emplace_back(parameterLines()[i].id, values[i]);
    return object;
}

ParameterValues parametersFrom(Fields& root)
{
    Fields fields = root.objectNeeded("parameters");
    ParameterValues values{};
    for (std::size_t i = 0; i < parameterCount; ++i) {
        const auto& line = parameterLines()[i];
        if (i < firstParameterCount)
            values[i] = fields.number(line.id, Range{line.low, line.high});
        else
            values[i] = fields.numberIfAny(line.id, Range{line.low, line.high}).value_or(line.initial);
    }
    fields.refuseUnknown();
    return values;
}

void checkVersion(Fields& root)
{
    const double version = root.number("version");
    if (version > sessionVersion)
        root.refuse("version", fmt::format("is {}, but this Couplet reads version {}; it is kept untouched: open the "
                                           "session with a newer Couplet",
                                           printedNumber(version), sessionVersion));
    else if (version != sessionVersion)
        root.refuse("version", fmt::format("is {}, but must be {}", printedNumber(version), sessionVersion));
}

// One that is known to be there.
const JsonValue& member(const JsonObject& object, std::string_view name)
{
    return std::find_if(object.begin(), object.end(), [&](const auto& field) { return field.first == name; })->second;
}

// The profiles of one list into their slots; they are read by the library, so that both know one format.
template <class T, class Slots>
void readItems(Fields& root, const JsonObject& object, const char* name, Slots& slots, FirstFault& faults)
{
    auto entries = root.objectsIfAny(name);
    std::size_t index = 0;
    for (Fields& entry : entries) {
        const int slot = entry.whole("slot", 0, static_cast<int>(slots.size()) - 1);
        entry.objectNeeded("profile");
        entry.refuseUnknown();
        if (faults.fault())
            return;
        const auto& list = *member(object, name).as<JsonList>();
        const auto& profile = member(*list[index].as<JsonObject>(), "profile");
        const auto item = itemFrom(printedJson(profile, JsonLayout::file), where);
        if (!item)
            return faults.say(fmt::format("{}[{}].profile", name, index), "cannot be read: " + item.fault().sentence);
        const T* found = std::get_if<T>(&*item);
        if (found == nullptr || slots[static_cast<std::size_t>(slot)])
            return entry.refuse("slot", found == nullptr ? "holds an item of another kind" : "is given twice");
        slots[static_cast<std::size_t>(slot)] = *found;
        ++index;
    }
}

std::optional<JsonValue> takenOut(JsonObject& object, std::string_view name)
{
    const auto found = std::find_if(object.begin(), object.end(), [&](const auto& f) { return f.first == name; });
    if (found == object.end())
        return std::nullopt;
    auto value = std::move(found->second);
    object.erase(found);
    return value;
}

void readFit(SavedSession& saved, const JsonValue& value)
{
    const JsonObject wrapped{{"fit", value}};
    FirstFault faults(where);
    Fields outer(wrapped, "", faults);
    Fields fields = outer.objectNeeded("fit");
    if (!faults.fault())
        saved.session.fit = fitSheetFrom(fields);
    if (!faults.fault())
        return;
    saved.session.fit = {};
    saved.session.unreadFit = printedJson(wrapped, JsonLayout::file); // sorted, so that it stays the same
    saved.notice = faults.fault()->sentence +
                   ". The rest of the session is there, and these readings are handed back as "
                   "they are until others are written down.";
}

void putFit(JsonObject& object, const Session& session)
{
    if (!session.fit.isNew()) {
        object.emplace_back("fit", jsonOf(session.fit));
        return;
    }
    if (session.unreadFit.empty())
        return;
    if (const auto wrapped = parsedJson(session.unreadFit, where))
        object.push_back(wrapped->as<JsonObject>()->front());
}

} // namespace

Session sessionFrom(const Folder::Listing& library)
{
    Session session;
    std::size_t nextEarphone = 1;
    for (const Item& item : library.items) {
        if (const auto* coupler = std::get_if<Coupler>(&item); coupler != nullptr && coupler->slot > 0)
            session.couplers[static_cast<std::size_t>(coupler->slot)] = *coupler;
        if (const auto* earphone = std::get_if<Earphone>(&item);
            earphone != nullptr && nextEarphone <= Session::earphoneSlots)
            session.earphones[nextEarphone++] = *earphone;
    }
    return session;
}

namespace {

std::string wholeTextOf(const SavedSession& saved)
{
    JsonObject object{{"kind", "session"},
                      {"version", sessionVersion},
                      {"parameters", objectOf(saved.parameters)},
                      {"couplers", listOf(saved.session.couplers)},
                      {"earphones", listOf(saved.session.earphones)}};
    putFit(object, saved.session);
    return printedJson(object, JsonLayout::file);
}

} // namespace

std::string textOf(const SavedSession& saved)
{
    auto text = wholeTextOf(saved);
    if (text.size() <= largestJson_bytes)
        return text;
    auto shorter = saved;
    for (std::size_t most = newestInSession; most > 0 && text.size() > largestJson_bytes; most /= 2) {
        for (auto& coupler : shorter.session.couplers)
            if (coupler && coupler->references.size() > most)
                coupler->references.erase(coupler->references.begin(),
                                          coupler->references.end() - static_cast<std::ptrdiff_t>(most));
        text = wholeTextOf(shorter);
    }
    return text;
}

Outcome<SavedSession> savedSessionFrom(std::string_view text)
{
    auto root = parsedJson(text, where);
    if (!root)
        return root.fault();
    auto& object = *std::get_if<JsonObject>(&root->content); // parsedJson lets only an object pass
    const auto fit = takenOut(object, "fit");
    FirstFault faults(where);
    Fields fields(object, "", faults);
    checkVersion(fields); // first: a newer version may have anything
    if (faults.fault())
        return *faults.fault();
    fields.oneOf("kind", {"session"});
    SavedSession saved;
    saved.parameters = parametersFrom(fields);
    readItems<Coupler>(fields, object, "couplers", saved.session.couplers, faults);
    readItems<Earphone>(fields, object, "earphones", saved.session.earphones, faults);
    fields.refuseUnknown();
    if (faults.fault())
        return *faults.fault();
    if (fit)
        readFit(saved, *fit);
    return saved;
}

} // namespace couplet
