// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/counter/call_words.h"

#include "ui/widgets/text.h"

#include <QCoreApplication>
#include <QKeySequence>

#include <algorithm>
#include <cassert>

namespace milehold::ui {

namespace {

struct Words {
    Q_DECLARE_TR_FUNCTIONS(CallsPanel)
};

} // namespace

const std::array<CallOutcome, 8>& callOutcomes() {
    using core::FollowUpOutcome;
    static const std::array<CallOutcome, 8> kOutcomes = {{
        {FollowUpOutcome::Quiet, Qt::Key_Q, QT_TRANSLATE_NOOP("CallsPanel", "Still quiet"), "quiet"},
        {FollowUpOutcome::NoiseBack, Qt::Key_N, QT_TRANSLATE_NOOP("CallsPanel", "Noise is back"), "sound"},
        {FollowUpOutcome::NoAnswer, Qt::Key_A, QT_TRANSLATE_NOOP("CallsPanel", "No answer"), "phone"},
        {FollowUpOutcome::CallLater, Qt::Key_L, QT_TRANSLATE_NOOP("CallsPanel", "Call later"), "clock"},
        {FollowUpOutcome::Sold, Qt::Key_S, QT_TRANSLATE_NOOP("CallsPanel", "Sold"), "person"},
        {FollowUpOutcome::Scrapped, Qt::Key_X, QT_TRANSLATE_NOOP("CallsPanel", "Scrapped"), "close"},
        {FollowUpOutcome::RepairedElsewhere, Qt::Key_R, QT_TRANSLATE_NOOP("CallsPanel", "Repaired elsewhere"),
         "wrench"},
        {FollowUpOutcome::DoNotCall, Qt::Key_D, QT_TRANSLATE_NOOP("CallsPanel", "Do not call again"), "stop"},
    }};
    return kOutcomes;
}

const CallOutcome& callOutcome(core::FollowUpOutcome outcome) {
    const auto& all = callOutcomes();
    const auto found =
        std::find_if(all.begin(), all.end(), [&](const CallOutcome& one) { return one.outcome == outcome; });
    assert(found != all.end());
    return *found;
}

QString CallOutcome::name() const {
    return QCoreApplication::translate("CallsPanel", text);
}

QString CallOutcome::letter() const {
    return QKeySequence(key).toString();
}

QString callQuestion(core::ConcernGroup concern) {
    switch (concern) {
    case core::ConcernGroup::None:
    case core::ConcernGroup::StartupRattle:
        break;
    case core::ConcernGroup::ChainNoise:
        return Words::tr("When you start it cold, after a night outside, and while it warms up: do you hear "
                         "the chain, and what does the odometer show?");
    case core::ConcernGroup::TimingCode:
        return Words::tr("Since the repair: has the engine light come on again, does it start cold without a "
                         "rattle, and what does the odometer show?");
    case core::ConcernGroup::OilLeak:
        return Words::tr("Before you start it cold, after a night outside: is there oil under it, and what "
                         "does the odometer show?");
    case core::ConcernGroup::Other:
        return Words::tr("When you start it cold, after a night outside: is what we repaired still good, and "
                         "what does the odometer show?");
    }
    return Words::tr("When you start it cold, after a night outside: do you hear any rattle, and what does "
                     "the odometer show?");
}

QString dueWord(const core::CallDue& due, core::DistanceUnit unit) {
    switch (due.kind) {
    case core::DueKind::Promised:
        return Words::tr("promised");
    case core::DueKind::Days30:
        return Words::tr("30 days");
    case core::DueKind::Months6:
        return Words::tr("6 months");
    case core::DueKind::Months12:
        return Words::tr("12 months");
    case core::DueKind::Months24:
        return Words::tr("24 months");
    case core::DueKind::Distance:
        return distanceText(due.at, unit);
    }
    return {};
}

QString dueWords(const std::vector<core::CallDue>& due, core::DistanceUnit unit) {
    QStringList words;
    for (const auto& mark : due)
        words << dueWord(mark, unit);
    return words.join(QStringLiteral(" \u00b7 "));
}

QStringList showNames() {
    return {Words::tr("All calls"),      Words::tr("Due"),
            Words::tr("Due: 30 days"),   Words::tr("Due: 6 months"),
            Words::tr("Due: 12 months"), Words::tr("Due: 24 months"),
            Words::tr("Due: distance"),  Words::tr("Under warranty")};
}

QStringList orderNames() {
    return {Words::tr("Most worth a minute"), Words::tr("Longest due"), Words::tr("Warranty ends first"),
            Words::tr("Most unseen")};
}

} // namespace milehold::ui
