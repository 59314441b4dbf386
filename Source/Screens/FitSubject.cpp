// SPDX-License-Identifier: GPL-3.0-or-later
#include "Screens/FitSubject.h"

#include "Screens/FitRows.h"

namespace couplet {

FitSubject subjectOf(const FitView& view)
{
    FitSubject subject;
    subject.simulated = view.simulated;
    return subject;
}

FitSubject subjectOf(const FitView& view, const FitTarget& target)
{
    FitSubject subject = subjectOf(view);
    if (const auto* group = groupOf(view, target))
        subject.name = target.kind == FitKind::through ? nameOf(view, target) : group->name;
    else if (const auto* earphone = earphoneOf(view, target))
        subject.name = earphone->name;
    return subject;
}

FitSubject subjectOf(const FitView& view, const FitTarget& target, std::size_t reading)
{
    FitSubject subject = subjectOf(view, target);
    if (const auto* group = groupOf(view, target); group != nullptr && reading < group->readings.size())
        subject.reading = group->readings[reading];
    if (const auto* earphone = earphoneOf(view, target); earphone != nullptr && reading < earphone->insertions.size())
        subject.insertion = earphone->insertions[reading];
    return subject;
}

} // namespace couplet
