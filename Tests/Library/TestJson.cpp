// SPDX-License-Identifier: GPL-3.0-or-later
#include "Library/Json.h"

#include <catch2/catch.hpp>

#include <bit>
#include <cstdint>
#include <limits>
#include <random>

using namespace couplet;

namespace {

// A field of the object that `text` is.
template <class T> T fieldOf(const std::string& text)
{
    const auto root = parsedJson(text, "here");
    REQUIRE(root);
    return *root->as<JsonObject>()->front().second.as<T>();
}

double backAndForth(double value)
{
    return fieldOf<double>("{\"v\": " + printedNumber(value) + "}");
}

std::string faultOf(const std::string& text)
{
    const auto root = parsedJson(text, "here");
    return root ? "it was taken" : root.fault().sentence;
}

} // namespace

TEST_CASE("every normal double comes back from JSON bit for bit")
{
    std::mt19937_64 random(1);
    const auto isNormal = [](double v) { return std::isnormal(v); };
    int tried = 0;
    while (tried < 100000) {
        const auto value = std::bit_cast<double>(random());
        if (!isNormal(value))
            continue;
        ++tried;
        if (backAndForth(value) != value)
            FAIL(printedNumber(value));
    }
    // Figures of the sizes that the library keeps, with all their digits.
    std::uniform_real_distribution<double> exponent(-9.0, 19.0);
    for (int i = 0; i < 100000; ++i) {
        const double value = std::pow(10.0, exponent(random));
        if (backAndForth(value) != value || backAndForth(-value) != -value)
            FAIL(printedNumber(value));
    }
}

TEST_CASE("the edges of the doubles come back from JSON")
{
    using limits = std::numeric_limits<double>;
    for (const double value :
         {0.0, 1.0, -1.0, 0.1, 123456789012345678.0, 9007199254740993.0, 1e15, 1e16, 1e22, 1e-7, 0.00012345678901234567,
          limits::max(), limits::lowest(), limits::min(), limits::denorm_min()})
        CHECK(backAndForth(value) == value);
    CHECK(std::signbit(backAndForth(-0.0)));
    CHECK(fieldOf<double>("{\"v\": 123456789012345678901234567890}") == 123456789012345678901234567890.0);
    CHECK(fieldOf<double>("{\"v\": 0.000000000123456789012345678901234}") == 0.000000000123456789012345678901234);
}

TEST_CASE("numbers are printed as short as they can be")
{
    CHECK(printedNumber(94.0) == "94");
    CHECK(printedNumber(0.1) == "0.1");
    CHECK(printedNumber(-121.97) == "-121.97");
    CHECK(printedNumber(std::numeric_limits<double>::infinity()) == "null");
}

TEST_CASE("text of any script and any escape comes back from JSON")
{
    for (const std::string text : {"", "Ohrsimulator Nr. 3 \"neu\"", "耳シミュレータ", "𝄞 above the first plane",
                                   "back\\slash / slash", "tab\tline\nreturn\rbell\abackspace\bfeed\f\x1b\x7f"})
        CHECK(fieldOf<std::string>("{\"v\": " + printedText(text) + "}") == text);
    CHECK(fieldOf<std::string>(R"({"v": "\u00e9\ud834\udd1e\/\b\f"})") == "é𝄞/\b\f");
}

TEST_CASE("a file's names are sorted and its short rows stay on one line")
{
    const JsonValue value = JsonObject{{"b", JsonList{JsonObject{{"y", 2}, {"x", 1}}, "z"}}, {"a", true}, {"c", {}}};
    CHECK(printedJson(value, JsonLayout::file) ==
          "{\n  \"a\": true,\n  \"b\": [\n    {\"x\": 1, \"y\": 2},\n    \"z\"\n  ],\n  \"c\": null\n}\n");
    CHECK(printedJson(value, JsonLayout::line) == R"({"b": [{"y": 2, "x": 1}, "z"], "a": true, "c": null})");
}

TEST_CASE("JSON that lenient parsers let pass is refused with its line")
{
    CHECK(faultOf("{\"a\": 1,\n}") == "here, line 2: a comma stands before '}'; take it out");
    CHECK(faultOf("{\"a\": 1}\nmore") == "here, line 2: text follows the closing '}'; take it out");
    CHECK(faultOf("{\"a\": 'b'}") == "here, line 1: text stands in single quotes; use double quotes");
    CHECK(faultOf("{\"a\": 007}") == "here, line 1: '007' is no number; write it like -12.5 or 1e-3");
    CHECK(faultOf("{\"a\": -}") == "here, line 1: '-' is no number; write it like -12.5 or 1e-3");
    CHECK(faultOf("{\"a\": 1.}") == "here, line 1: '1.' is no number; write it like -12.5 or 1e-3");
    CHECK(faultOf("{\"a\": 1e999}") == "here, line 1: the number 1e999 is too large or too small; correct it");
    CHECK(faultOf("{\"a\": NaN}") ==
          "here, line 1: 'NaN' stands without quotes; put it in double quotes or take it out");
    CHECK(faultOf(R"({"a": "\ud834"})") == "here, line 1: an escape stands for no character; take it out");
    CHECK(faultOf(R"({"a": "\u0000"})") == "here, line 1: an escape stands for no character; take it out");
    CHECK(faultOf(R"({"a": 1, "\u0061": 2})") == "here, line 1: the field 'a' stands there twice; take one out");
    CHECK(faultOf("{\"a\": \"\xC0\xAF\"}") == "here, line 1: it is not UTF-8; save it again as UTF-8");
    CHECK(faultOf("{\"a\": [1}") == "here, line 1: '}' stands where ']' is needed; mend it there");
    CHECK(faultOf("[1]") == "here, line 1: it must start with '{'; it is no file of this library");
}

TEST_CASE("no beginning of a good file is taken for a file")
{
    const std::string text = R"({"a": [1.5, "x\n\u00e9", {"b": null}], "c": {"d": true}})";
    REQUIRE(parsedJson(text, "here"));
    for (std::size_t size = 0; size < text.size(); ++size) {
        INFO(text.substr(0, size));
        CHECK_FALSE(parsedJson(text.substr(0, size), "here"));
    }
}

TEST_CASE("bytes flipped at random never crash the reader")
{
    const std::string text = R"({"a": [1.5e3, "x\n\u00e9", {"b": null}], "c": {"d": true}, "f": -0.25})";
    std::mt19937 random(2);
    std::size_t refused = 0;
    for (int i = 0; i < 20000; ++i) {
        auto broken = text;
        for (int flips = 0; flips < 3; ++flips)
            broken[random() % broken.size()] = static_cast<char>(random());
        const auto root = parsedJson(broken, "here");
        if (!root) {
            ++refused;
            REQUIRE(root.fault().sentence.starts_with("here, line "));
        }
    }
    CHECK(refused > 10000);
}

TEST_CASE("JSON nested 64 deep is read and deeper is refused")
{
    const auto nested = [](std::size_t levels) {
        return "{\"a\": " + std::string(levels - 1, '[') + std::string(levels - 1, ']') + "}";
    };
    CHECK(parsedJson(nested(64), "here"));
    CHECK(faultOf(nested(65)) == "here, line 1: it is nested more than 64 levels deep; it is no file of this library");
    CHECK_FALSE(parsedJson("{\"a\": " + std::string(3000000, '['), "here"));
}

TEST_CASE("JSON larger than 4 MB is refused")
{
    const std::string padding(largestJson_bytes, ' ');
    CHECK(faultOf("{}" + padding) == "here: it is larger than 4 MB; it is no file of this library");
    CHECK(parsedJson("{}" + padding.substr(2), "here"));
}
