// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Library/Fields.h"
#include "Library/Folder.h"

#include <string>
#include <vector>

// Purpose: the fields of each kind of item, out and in. Only what its own kind has: `kind`, `version` and `name` are
//          written and read in one place for all (ItemJson.cpp).
// Rules:   what may be absent and is, what is empty and what is 'no' is left out; numbers are always written, so that
//          a changed default cannot change an old file's meaning. A field's name ends in its unit.
// Thread:  any but audio.
namespace couplet {

std::string titleOf(const Item&); // "coupler 'bench'"
JsonValue jsonOf(const Item&);    // as its file has it

// With its name as `keptName` makes it; a fault when nothing is left of that. `where` as for itemFrom.
Outcome<Item> withKeptName(Item, const std::string& where);

inline constexpr int libraryVersion = 1, versionWithOlder = 2; // the latter for a coupler with history files alone
inline constexpr Range ratedLevels_dB{-20.0, 200.0};
inline constexpr Range pressures_kPa{50.0, 120.0};

JsonObject fieldsOf(const Coupler&);
JsonObject fieldsOf(const Calibrator&);
JsonObject fieldsOf(const Earphone&);
JsonObject fieldsOf(const DriveSource&);

// Each fills all but the name; faults go where the fields keep them.
Coupler couplerFrom(Fields&);
Calibrator calibratorFrom(Fields&);
Earphone earphoneFrom(Fields&);
DriveSource driveSourceFrom(Fields&);

// Of a coupler or of one of its references.
JsonObject fieldsOf(const Correction&);
std::optional<Correction> correctionFrom(Fields&);

// A coupler's history (ReferenceJson.cpp).
JsonList listOf(const std::vector<Reference>&);
std::vector<Reference> referencesFrom(Fields&);

// Writing what may be absent.
void putIfAny(JsonObject&, const char* name, const std::optional<double>&);
void putIfAny(JsonObject&, const char* name, const std::optional<int>&);
void putIfAny(JsonObject&, const char* name, const std::string&); // empty counts as absent
void putIfAny(JsonObject&, const char* name, bool);               // so does 'no'
void putIfAny(JsonObject&, const char* name, JsonList);
void putIfAny(JsonObject&, const char* name, const std::vector<std::string>&);
template <class Unit> void putIfAny(JsonObject& object, const char* name, const std::optional<Quantity<Unit>>& quantity)
{
    if (quantity)
        object.emplace_back(name, quantity->value);
}

} // namespace couplet
