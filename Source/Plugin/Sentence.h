// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>

// Purpose: faults are fragments or sentences, as who wrote them needed; on a page each is a sentence.
// Thread:  any but audio.
namespace couplet {

inline std::string asSentence(std::string text)
{
    if (text.empty())
        return text;
    if (text.front() >= 'a' && text.front() <= 'z')
        text.front() = static_cast<char>(text.front() - 'a' + 'A');
    const char last = text.back();
    return last == '.' || last == '?' || last == '!' ? text : text + '.';
}

} // namespace couplet
