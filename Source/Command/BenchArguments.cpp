// SPDX-License-Identifier: GPL-3.0-or-later
#include "Command/BenchArguments.h"

#include "Quantities/QuantityText.h"

#include <fmt/format.h>

namespace couplet {
namespace {

Fault both(const char* first, const char* second)
{
    return Fault{fmt::format("--{} and --{} exclude each other: give one of them", first, second)};
}

Fault needs(const char* option, const char* other)
{
    return Fault{fmt::format("--{} needs --{} beside it", option, other)};
}

} // namespace

Folder libraryOf(const Arguments& arguments)
{
    const std::string* given = arguments.value("library");
    return Folder(given != nullptr ? std::filesystem::path(*given) : Folder::defaultPath());
}

Outcome<int> microphoneChannel(const Arguments& arguments)
{
    const auto channel = arguments.channel("channel");
    if (!channel)
        return channel.fault();
    return channel->value_or(1);
}

Outcome<std::optional<double>> spread(const Arguments& arguments, std::string_view option)
{
    auto value = arguments.quantity<double>(option, parseDecibels);
    if (value && *value && **value < 0.0)
        return Fault{
            fmt::format("--{}: an uncertainty or a tolerance is not negative; write it without the sign", option)};
    return value;
}

Outcome<Done> addCoupler(Setup& setup, const Arguments& arguments, const Folder& folder)
{
    const std::string* name = arguments.value("coupler");
    if (name != nullptr && arguments.has("offset"))
        return both("coupler", "offset");
    for (const char* option : {"offset-uncertainty", "offset-frequency"})
        if (arguments.has(option) && !arguments.has("offset"))
            return needs(option, "offset");
    if (name != nullptr) {
        auto coupler = folder.coupler(*name);
        if (!coupler)
            return coupler.fault();
        setup.coupler = *std::move(coupler);
    }
    const auto offset = arguments.quantity<double>("offset", parseDecibels);
    if (!offset)
        return offset.fault();
    const auto U = spread(arguments, "offset-uncertainty");
    if (!U)
        return U.fault();
    const auto frequency = arguments.quantity<Hertz>("offset-frequency", parseHertz);
    if (!frequency)
        return frequency.fault();
    if (*offset)
        setup.offset = TypedOffset{**offset, *U, *frequency};
    return Done{};
}

Outcome<Done> addEarphone(Setup& setup, const Arguments& arguments, const Folder& folder)
{
    const std::string* name = arguments.value("earphone");
    const std::string* rating = arguments.value("rating");
    if (name != nullptr && rating != nullptr)
        return both("earphone", "rating");
    if (const std::string* side = arguments.value("side")) {
        if (*side != "left" && *side != "right")
            return Fault{fmt::format("--side: '{}' is no side; write left or right", *side)};
        setup.side = *side;
    }
    if (rating == nullptr) {
        for (const char* option :
             {"rating-frequency", "rating-tolerance", "rating-source-impedance", "impedance-tolerance"})
            if (arguments.has(option))
                return needs(option, "rating");
    }
    if (name != nullptr && arguments.has("impedance"))
        return both("earphone", "impedance");
    if (name != nullptr) {
        auto earphone = folder.earphone(*name);
        if (!earphone)
            return earphone.fault();
        setup.earphone = *std::move(earphone);
        return Done{};
    }
    const auto impedance = arguments.quantity<Ohms>("impedance", parseOhms);
    if (!impedance)
        return impedance.fault();
    if (rating == nullptr)
        return *impedance ? Outcome<Done>(needs("impedance", "rating")) : Outcome<Done>(Done{});

    auto typed = arguments.quantity<Rating>("rating", parseRating);
    if (!typed)
        return typed.fault();
    const auto frequency = arguments.quantity<Hertz>("rating-frequency", parseHertz);
    if (!frequency)
        return frequency.fault();
    const auto source = arguments.quantity<Ohms>("rating-source-impedance", parseSourceOhms);
    if (!source)
        return source.fault();
    const auto tolerance = spread(arguments, "rating-tolerance");
    if (!tolerance)
        return tolerance.fault();
    const auto impedanceTolerance = arguments.quantity<Percent>("impedance-tolerance", parseTolerance);
    if (!impedanceTolerance)
        return impedanceTolerance.fault();
    if (*impedanceTolerance && !*impedance)
        return needs("impedance-tolerance", "impedance");
    Earphone earphone;
    earphone.rating = **typed;
    earphone.rating.frequency = *frequency;
    earphone.rating.tolerance_dB = *tolerance;
    earphone.rating.impedance = *impedance;
    earphone.rating.impedanceTolerance = *impedanceTolerance;
    earphone.rating.ratedSource = *source;
    if (const auto perVolt = sensitivity_dBPerVolt(earphone.rating); !perVolt)
        return Fault{"--rating: " + perVolt.fault().sentence};
    setup.earphone = std::move(earphone);
    return Done{};
}

Outcome<Done> addDrive(Setup& setup, const Arguments& arguments)
{
    const auto typed = arguments.quantity<Volts>("drive", parseVolts);
    if (!typed)
        return typed.fault();
    const auto fullScale = arguments.quantity<Volts>("drive-full-scale", parseVolts);
    if (!fullScale)
        return fullScale.fault();
    const auto source = arguments.quantity<Ohms>("source-impedance", parseSourceOhms);
    if (!source)
        return source.fault();
    const auto accuracy = arguments.quantity<Percent>("meter-accuracy", parsePercent);
    if (!accuracy)
        return accuracy.fault();
    const bool sensed = arguments.has("drive-channel");
    if (*typed && sensed)
        return both("drive", "drive-channel");
    if (sensed && !*fullScale)
        return needs("drive-channel", "drive-full-scale");
    if (*fullScale && !sensed)
        return needs("drive-full-scale", "drive-channel");
    if (!*typed && !sensed)
        for (const char* option : {"source-impedance", "across", "meter-accuracy"})
            if (arguments.has(option))
                return Fault{fmt::format("--{} needs a drive beside it: give --drive or --drive-channel", option)};
    if (!*typed && !sensed)
        return Done{};
    if (*source && arguments.has("across"))
        return both("source-impedance", "across");
    if (!*source && !arguments.has("across"))
        return Fault{fmt::format("--{} needs to say what it is: --across for the voltage across the earphone, or "
                                 "--source-impedance for an open-circuit voltage behind it",
                                 sensed ? "drive-channel" : "drive")};
    Drive drive;
    drive.voltage = typed->value_or(Volts{});
    drive.source = *source;
    drive.meterAccuracy = *accuracy;
    drive.sensed = sensed;
    setup.drive = drive;
    setup.driveFullScale = *fullScale;
    return Done{};
}

} // namespace couplet
