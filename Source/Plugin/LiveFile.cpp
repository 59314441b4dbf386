// SPDX-License-Identifier: GPL-3.0-or-later
#include "Plugin/LiveFile.h"

#include "Library/Descriptor.h"

#include <fmt/format.h>

#include <cerrno>
#include <cstdio>
#include <cstdlib>
#include <fcntl.h>
#include <mutex>
#include <set>
#include <string>
#include <unistd.h>

namespace couplet {
namespace {

std::mutex numbersMutex;
std::set<int> numbersInUse;

int lowestFreeNumber()
{
    const std::lock_guard lock(numbersMutex);
    int number = 1;
    while (numbersInUse.count(number) > 0)
        ++number;
    numbersInUse.insert(number);
    return number;
}

std::filesystem::path numbered(std::filesystem::path path, int number)
{
    if (number > 1)
        path += fmt::format(".{}", number);
    return path;
}

} // namespace

std::optional<std::filesystem::path> LiveFile::named()
{
    const char* name = std::getenv("COUPLET_LIVE"); // NOLINT(concurrency-mt-unsafe): nobody here sets it
    if (name == nullptr || *name == '\0')
        return {};
    return std::filesystem::path(name);
}

LiveFile::~LiveFile()
{
    const std::lock_guard lock(numbersMutex);
    numbersInUse.erase(number);
}

Outcome<Done> LiveFile::write(std::string_view text)
{
    if (number == 0) {
        number = lowestFreeNumber();
        file = numbered(file, number);
    }
    const auto fault = [this](const Fault& reason) {
        return Fault{fmt::format("COUPLET_LIVE: {} cannot be written ({}); name a file in a folder that can",
                                 file.string(), reason.sentence)};
    };
    auto sibling = file;
    sibling += fmt::format(".{}.new", ::getpid());
    auto out = Descriptor::open(sibling, O_WRONLY | O_CREAT | O_TRUNC | O_CLOEXEC);
    if (!out)
        return fault(out.fault());
    if (const auto written = out->writeAll(text); !written)
        return fault(written.fault());
    if (const auto closed = out->close(); !closed)
        return fault(closed.fault());
    if (std::rename(sibling.c_str(), file.c_str()) != 0)
        return fault(reasonOf(errno));
    return Done{};
}

} // namespace couplet
