// SPDX-License-Identifier: GPL-3.0-or-later
#include "Library/ItemJson.h"

namespace couplet {

JsonObject fieldsOf(const DriveSource& drive)
{
    JsonObject object;
    putIfAny(object, "fullScale_V", drive.fullScale);
    putIfAny(object, "source_ohm", drive.source);
    putIfAny(object, "meterAccuracy_percent", drive.meterAccuracy);
    return object;
}

DriveSource driveSourceFrom(Fields& fields)
{
    DriveSource drive;
    drive.fullScale = fields.quantityIfAny<Volts>("fullScale_V", aboveZero);
    drive.source = fields.quantityIfAny<Ohms>("source_ohm", zeroOrMore);
    drive.meterAccuracy = fields.quantityIfAny<Percent>("meterAccuracy_percent", zeroOrMore);
    return drive;
}

} // namespace couplet
