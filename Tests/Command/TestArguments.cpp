// SPDX-License-Identifier: GPL-3.0-or-later
#include "Command/Arguments.h"
#include "Quantities/QuantityText.h"

#include <catch2/catch.hpp>

using namespace couplet;

namespace {

using Line = std::vector<std::string>;

Outcome<Arguments> taken(const Line& line, std::string_view verb = "read")
{
    return Arguments::from(*verbNamed(verb), line);
}

std::string refusalOf(const Line& line, std::string_view verb = "read")
{
    const auto arguments = taken(line, verb);
    return arguments ? "no fault" : arguments.fault().sentence;
}

} // namespace

TEST_CASE("words and options are told apart in any order")
{
    const Line lines[] = {{"take.wav", "--drive", "123.2mV", "--keep", "--coupler", "my bench"},
                          {"--keep", "--coupler=my bench", "--drive=123.2mV", "take.wav"},
                          {"--drive", "123.2mV", "take.wav", "--coupler", "my bench", "--keep"}};
    for (const auto& line : lines) {
        const auto arguments = taken(line);
        REQUIRE(arguments);
        CHECK(arguments->words() == Line{"take.wav"});
        CHECK(arguments->has("keep"));
        CHECK_FALSE(arguments->has("json"));
        REQUIRE(arguments->value("coupler"));
        CHECK(*arguments->value("coupler") == "my bench");
        CHECK(*arguments->value("drive") == "123.2mV");
        CHECK(arguments->value("side") == nullptr);
    }
}

TEST_CASE("a value may begin with a minus sign, hold an equals sign, or be a word of its own after two dashes")
{
    const auto arguments = taken({"--offset", "-3dB", "--coupler=a=b", "--", "--keep"});
    REQUIRE(arguments);
    CHECK(*arguments->value("offset") == "-3dB");
    CHECK(*arguments->value("coupler") == "a=b");
    CHECK(arguments->words() == Line{"--keep"});
    CHECK_FALSE(arguments->has("keep"));
}

TEST_CASE("every verb takes the options of every verb")
{
    for (const auto& verb : verbs()) {
        INFO(verb.name);
        const Line line = {"--library", "folder", "--json", "--help"};
        auto whole = line;
        for (const auto word : verb.words)
            whole.emplace_back(word);
        const auto arguments = Arguments::from(verb, whole);
        REQUIRE(arguments);
        CHECK(*arguments->value("library") == "folder");
        CHECK(arguments->has("json"));
        CHECK(arguments->words().size() == verb.words.size());
    }
}

TEST_CASE("a call that breaks the grammar is refused in one sentence")
{
    struct
    {
        Line line;
        const char* sentence;
    } const cases[] = {
        {{"t", "--chanel", "2"}, "read has no option --chanel; near: --channel"},
        {{"t", "--zzzzzzzzz"}, "read has no option --zzzzzzzzz; 'couplet read --help' lists them"},
        {{"t", "-k"}, "read has no option -k; near: --keep"},
        {{"t", "-coupler", "a"}, "read has no option -coupler; near: --coupler"},
        {{"t", "--="}, "read has no option --; 'couplet read --help' lists them"},
        {{"t", "--keep", "--keep"}, "--keep is given twice; leave one out"},
        {{"t", "--drive=1V", "--drive", "1V"}, "--drive is given twice; leave one out"},
        {{"t", "--drive"}, "--drive has no value; write it like --drive 123.2mV"},
        {{"t", "--drive", "--keep"}, "--drive has no value; write it like --drive 123.2mV"},
        {{"t", "--coupler", ""}, "--coupler has an empty value; write it like --coupler NAME"},
        {{"t", "--coupler="}, "--coupler has an empty value; write it like --coupler NAME"},
        {{"t", "--keep=yes"}, "--keep takes no value; write --keep alone"},
        {{"--keep"},
         "read needs TAKE; write it behind the verb, for example 'couplet read left.wav --coupler bench "
         "--rating 112.4dB/V'"},
        {{"t", "u"}, "read takes one word, TAKE, and 'u' is one too many; put a name with spaces in quotes"},
    };
    for (const auto& each : cases)
        CHECK(refusalOf(each.line) == each.sentence);
    CHECK(refusalOf({"x"}, "demo") == "demo takes no word of its own, and 'x' is one too many; put a name with spaces "
                                      "in quotes");
    CHECK(refusalOf({"show", "my", "earphone", "S"}, "library") ==
          "library takes at most 3 words, and 'S' is one too many; put a name with spaces in quotes");
    CHECK(refusalOf({}, "library")
              .starts_with("library needs list|show|add|remove|versions|putback|rename|copy|presets|export|import; "));
    CHECK(refusalOf({"t", "--drive", "1V"}, "levels").starts_with("levels has no option --drive; "));
}

TEST_CASE("a quantity is absent, had, or refused with its option's name")
{
    const auto arguments = taken({"t", "--drive", "62.4 mV", "--offset=-3dB", "--impedance", "24", "--source-impedance",
                                  "-1ohm", "--rating-frequency", "500"});
    REQUIRE(arguments);
    CHECK(**arguments->quantity("drive", parseVolts) == Volts{0.0624});
    CHECK(**arguments->quantity("offset", parseDecibels) == -3.0);
    const auto absent = arguments->quantity("meter-accuracy", parsePercent);
    REQUIRE(absent);
    CHECK_FALSE(*absent);
    CHECK(arguments->quantity("impedance", parseOhms).fault().sentence.starts_with("--impedance: '24' has no unit; "));
    CHECK(arguments->quantity("source-impedance", parseSourceOhms)
              .fault()
              .sentence.starts_with("--source-impedance: '-1ohm' must not be negative; "));
    CHECK(arguments->quantity("rating-frequency", parseHertz)
              .fault()
              .sentence.starts_with("--rating-frequency: '500' has no unit; "));
}

TEST_CASE("a channel is a whole number from 1")
{
    CHECK(**taken({"t", "--channel", "2"})->channel("channel") == 2);
    CHECK_FALSE(*taken({"t"})->channel("channel"));
    for (const char* wrong : {"0", "-1", "1.5", "two", "2x", " 2", "1e1", "99999999999999999999", "65536"}) {
        INFO(wrong);
        const auto channel = taken({"t", "--channel", wrong})->channel("channel");
        REQUIRE_FALSE(channel);
        CHECK(channel.fault().sentence ==
              "--channel: '" + std::string(wrong) + "' is no channel; write a whole number from 1");
    }
}
