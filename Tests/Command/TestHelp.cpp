// SPDX-License-Identifier: GPL-3.0-or-later
#include "Command/Dispatch.h"
#include "Command/Help.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <set>
#include <sstream>

using namespace couplet;

namespace {

std::string answerTo(const std::vector<std::string>& words)
{
    const auto answer = runCommand(words);
    REQUIRE(answer);
    CHECK(answer->status == 0);
    return answer->text;
}

std::string refusalOf(const std::vector<std::string>& words)
{
    const auto answer = runCommand(words);
    return answer ? "no fault" : answer.fault().sentence;
}

// The options that a text writes with their dashes.
std::set<std::string> optionsIn(const std::string& text)
{
    std::set<std::string> found;
    for (auto at = text.find("--"); at != std::string::npos; at = text.find("--", at + 2)) {
        const auto end = text.find_first_not_of("abcdefghijklmnopqrstuvwxyz-", at + 2);
        found.insert(text.substr(at + 2, end - at - 2));
    }
    return found;
}

// The grammar once more, so that a table that lost an option is found out.
const struct
{
    const char* verb;
    std::set<std::string> options;
} grammar[] = {
    {"demo", {"out"}},
    {"read",
     {"channel",
      "coupler",
      "offset",
      "offset-uncertainty",
      "offset-frequency",
      "earphone",
      "rating",
      "rating-frequency",
      "rating-tolerance",
      "impedance",
      "impedance-tolerance",
      "rating-source-impedance",
      "side",
      "source-impedance",
      "across",
      "keep",
      "drive",
      "drive-channel",
      "drive-full-scale",
      "meter-accuracy",
      "largest-uncertainty"}},
    {"levels", {"channel", "coupler", "offset", "offset-uncertainty"}},
    {"reference",
     {"coupler",
      "channel",
      "correction",
      "correction-uncertainty",
      "correction-includes-calibrator",
      "calibrator",
      "level",
      "frequency",
      "level-uncertainty",
      "class",
      "pressure",
      "pressure-law",
      "keep",
      "although-moved",
      "second-level",
      "seating-uncertainty",
      "drift-uncertainty",
      "linearity-uncertainty",
      "pressure-uncertainty",
      "response-uncertainty",
      "insertion-uncertainty",
      "coupler-uncertainty",
      "check",
      "history",
      "csv",
      "set-aside",
      "reason",
      "put-back"}},
    {"fit",
     {"coupler", "calibrator-uncertainty", "transfer-uncertainty", "adapter-uncertainty", "seating-uncertainty", "keep",
      "calibrator", "frequency", "wanted-uncertainty"}},
    {"library", {"only", "version"}},
    {"report", {"coupler", "out"}},
};

} // namespace

TEST_CASE("the help of each verb has every option of the grammar, in its usage and in its list")
{
    REQUIRE(std::size(grammar) == verbs().size());
    for (const auto& each : grammar) {
        INFO(each.verb);
        const auto* verb = verbNamed(each.verb);
        REQUIRE(verb);
        CHECK(optionsIn(std::string(verb->usage)) == each.options);
        auto all = each.options;
        all.insert({"library", "json", "help"});
        CHECK(optionsIn(answerTo({each.verb, "--help"})) == all);
        for (const auto& option : verb->options)
            CHECK_FALSE(option.meaning.empty());
    }
    for (const char* action : {"list", "show NAME", "add FILE", "remove NAME", "versions NAME",
                               "putback NAME [--version N]", "export FILE", "import FILE"})
        CHECK(answerTo({"library", "--help"}).find(action) != std::string::npos);
}

TEST_CASE("no line of any help is wider than 80 columns, and each has an example that the grammar takes")
{
    std::vector<std::string> texts = {helpText()};
    for (const auto& verb : verbs())
        texts.push_back(helpText(verb));
    for (const auto& text : texts) {
        INFO(text);
        std::istringstream lines(text);
        for (std::string line; std::getline(lines, line);) {
            CHECK(line.size() <= 80);
            CHECK((line.empty() || line.back() != ' '));
            CHECK(std::all_of(line.begin(), line.end(), [](char c) { return c >= ' ' && c <= '~'; }));
        }
        CHECK(text.find("Example:\n  couplet ") != std::string::npos);
        CHECK(text.back() == '\n');
    }
    for (const auto& verb : verbs()) {
        std::vector<std::string> words;
        for (const auto& part : verb.example) {
            std::istringstream split{std::string(part)};
            for (std::string word; split >> word;)
                words.push_back(word);
        }
        REQUIRE(words.size() >= 2);
        CHECK(words[1] == verb.name);
        CHECK(Arguments::from(verb, {words.begin() + 2, words.end()}));
    }
}

TEST_CASE("help is had in every way it is asked for, also in a call that is wrong")
{
    CHECK(answerTo({"--help"}) == helpText());
    CHECK(answerTo({"-h"}) == helpText());
    CHECK(answerTo({"help"}) == helpText());
    for (const auto& verb : verbs())
        CHECK(helpText().find("couplet " + std::string(verb.name) + " ") != std::string::npos);
    CHECK(answerTo({"read", "--no-such-option", "--help"}) == helpText(*verbNamed("read")));
    CHECK(answerTo({"fit", "-h"}) == helpText(*verbNamed("fit")));
    CHECK(answerTo({"--version"}).starts_with("couplet "));
}

TEST_CASE("what is no verb is refused, near ones named")
{
    CHECK(refusalOf({"raed", "take.wav"}) == "no verb 'raed'; near: read");
    CHECK(refusalOf({"frobnicate"}) ==
          "no verb 'frobnicate'; the verbs are: demo, read, levels, reference, fit, library, report");
    CHECK(refusalOf({}) == "no verb is given; 'couplet --help' lists them, and 'couplet demo' shows what they do");
    CHECK(refusalOf({"--json"}) == "the verb comes first, and '--json' is none; 'couplet --help' lists them");
    CHECK(refusalOf({"read", "--help-me"}).starts_with("read has no option --help-me"));
    CHECK(refusalOf({"levels", "--", "--help"}).starts_with("--help: there is no such file"));
}

TEST_CASE("a verb that is not there yet says so, and what helps meanwhile")
{
    CHECK(refusalOf({"report"}).starts_with("report is not there yet; "));
}
