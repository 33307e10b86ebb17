// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/vehicle/vehicle_events.h"

#include "core/shop/comeback.h"
#include "ui/records/attachments_dialog.h"
#include "ui/widgets/text.h"
#include "ui/words/labels.h"

#include <QCoreApplication>
#include <QLocale>
#include <QStringList>

#include <algorithm>
#include <tuple>

namespace milehold::ui {

namespace {

struct Words {
    Q_DECLARE_TR_FUNCTIONS(VehicleEvents)
};

const core::Job* jobOf(const core::VehicleHistory& history, core::JobId id) {
    const auto found = std::find_if(history.jobs.begin(), history.jobs.end(),
                                    [id](const core::Job& job) { return job.id == id; });
    return found == history.jobs.end() ? nullptr : &*found;
}

QString joined(QStringList parts) {
    parts.removeAll(QString());
    return parts.join(QStringLiteral(" \u00b7 "));
}

/// How the repair has held, for its row.
QString stateText(core::JobId job, std::span<const core::Life> lives, core::DistanceUnit unit) {
    for (const core::Life& life : lives) {
        if (life.job != job)
            continue;
        const QString state = word(life.state).toLower();
        const QString known = distanceText(life.known, unit);
        return life.unseen > core::Distance()
                   ? Words::tr("%1, known %2, %3 unseen").arg(state, known, distanceText(life.unseen, unit))
                   : Words::tr("%1, known %2").arg(state, known);
    }
    return {};
}

class Collector {
public:
    Collector(const core::VehicleHistory& history, std::span<const core::Life> lives,
              const core::Shelf& shelf, core::DistanceUnit unit, std::span<const core::Attachment> files)
        : history_(history), lives_(lives), shelf_(shelf), unit_(unit), files_(files) {}

    std::vector<VehicleEvent> collect() {
        for (const core::Job& job : history_.jobs)
            if (!job.isVoid())
                addJob(job);
        for (const core::FollowUp& call : history_.followUps)
            addCall(call);
        for (const core::OdometerReading& reading : history_.odometers)
            addReading(reading);
        for (const core::Attachment& file : files_)
            addFile(file);
        std::stable_sort(events_.begin(), events_.end(), [](const VehicleEvent& a, const VehicleEvent& b) {
            const auto metres = [](const VehicleEvent& event) {
                return event.shown ? event.shown->metres() : std::int64_t{-1};
            };
            return std::tuple(b.date, metres(b)) < std::tuple(a.date, metres(a));
        });
        return std::move(events_);
    }

private:
    void addJob(const core::Job& job) {
        VehicleEvent event;
        event.kind = job.kind == core::JobKind::Visit       ? VehicleEvent::Kind::Visit
                     : job.kind == core::JobKind::Elsewhere ? VehicleEvent::Kind::Elsewhere
                                                            : VehicleEvent::Kind::Repair;
        event.job = job.id;
        event.date = job.delivered.value_or(job.writtenUp);
        event.shown = job.delivered && job.odometerOut ? job.odometerOut : job.odometerIn;
        event.what = Words::tr("%1, job %2").arg(word(job.kind)).arg(job.number);
        const core::RepairPath* path = job.path ? shelf_.find(*job.path) : nullptr;
        event.details = joined({path ? toText(path->name) : QString(),
                                job.isDelivered() ? QString() : Words::tr("in work"),
                                job.kind == core::JobKind::Visit ? toText(job.concern) : QString(),
                                stateText(job.id, lives_, unit_)});
        events_.push_back(event);
        if (job.comebackOf || job.comebackDecision != core::ComebackDecision::None)
            addComeback(job);
        if (!job.calibrationAfter.empty() && job.calibrationAfter != job.calibrationBefore)
            addCalibration(job);
    }

    void addComeback(const core::Job& job) {
        VehicleEvent event;
        event.kind = VehicleEvent::Kind::Comeback;
        event.job = job.id;
        event.date = job.writtenUp;
        event.shown = job.odometerIn;
        const core::Job* earlier = job.comebackOf ? jobOf(history_, *job.comebackOf) : nullptr;
        const bool counts = core::countsAsComeback(job.comebackDecision) ||
                            (job.comebackOf && job.comebackDecision == core::ComebackDecision::None);
        const QString number = earlier ? QString::number(earlier->number) : QString();
        event.what =
            counts ? (number.isEmpty() ? Words::tr("Came back") : Words::tr("Job %1 came back").arg(number))
                   : Words::tr("Came in again");
        event.details = joined({word(job.comebackDecision), toText(job.comebackCause)});
        events_.push_back(event);
    }

    void addCalibration(const core::Job& job) {
        VehicleEvent event;
        event.kind = VehicleEvent::Kind::Calibration;
        event.job = job.id;
        event.date = job.delivered.value_or(job.writtenUp);
        event.shown = job.odometerOut ? job.odometerOut : job.odometerIn;
        event.what = Words::tr("Calibration, job %1").arg(job.number);
        event.details =
            job.calibrationBefore.empty()
                ? toText(job.calibrationAfter)
                : Words::tr("%1 to %2").arg(toText(job.calibrationBefore), toText(job.calibrationAfter));
        events_.push_back(event);
    }

    void addCall(const core::FollowUp& call) {
        const core::Job* about = jobOf(history_, call.job);
        if (about == nullptr || about->isVoid())
            return;
        VehicleEvent event;
        event.kind = VehicleEvent::Kind::Call;
        event.job = call.job;
        event.date = call.date;
        event.shown = call.odometer;
        event.estimated = call.odometerEstimated;
        event.what = Words::tr("Call about job %1").arg(about->number);
        const QString since =
            call.noiseSince ? Words::tr("since %1").arg(distanceText(*call.noiseSince, unit_)) : QString();
        const QString promised =
            call.callOn ? Words::tr("call again on %1").arg(dateText(*call.callOn)) : QString();
        event.details =
            joined({call.isVoid() ? Words::tr("void: %1").arg(toText(call.voidReason)) : QString(),
                    word(call.outcome), since, promised, toText(call.note)});
        event.call = call;
        events_.push_back(event);
    }

    void addFile(const core::Attachment& file) {
        const core::Job* about = jobOf(history_, file.job);
        if (about == nullptr || about->isVoid())
            return;
        VehicleEvent event;
        event.kind = VehicleEvent::Kind::File;
        event.job = file.job;
        event.file = file.id;
        event.date = about->delivered.value_or(about->writtenUp);
        event.what = Words::tr("%1, job %2").arg(AttachmentsDialog::kindWord(file.kind)).arg(about->number);
        event.details = joined({toText(file.name), QLocale().formattedDataSize(file.size)});
        events_.push_back(event);
    }

    void addReading(const core::OdometerReading& reading) {
        if (reading.source != core::OdometerSource::Typed)
            return;
        VehicleEvent event;
        event.kind = reading.resetOffset ? VehicleEvent::Kind::Replacement : VehicleEvent::Kind::Reading;
        event.date = reading.date;
        event.shown = reading.shown;
        event.what = reading.resetOffset ? Words::tr("Instrument replaced") : Words::tr("Odometer");
        if (reading.resetOffset)
            event.details = Words::tr("it had really run %1")
                                .arg(distanceText(reading.shown + *reading.resetOffset, unit_));
        events_.push_back(event);
    }

    const core::VehicleHistory& history_;
    std::span<const core::Life> lives_;
    const core::Shelf& shelf_;
    core::DistanceUnit unit_;
    std::span<const core::Attachment> files_;
    std::vector<VehicleEvent> events_;
};

} // namespace

std::vector<VehicleEvent> vehicleEvents(const core::VehicleHistory& history,
                                        std::span<const core::Life> lives, const core::Shelf& shelf,
                                        core::DistanceUnit unit, std::span<const core::Attachment> files) {
    return Collector(history, lives, shelf, unit, files).collect();
}

QString yearlyText(const core::YearlyDistance& yearly, core::DistanceUnit unit) {
    const QString perYear = distanceText(yearly.perYear, unit);
    return yearly.source == core::YearlySource::Readings
               ? Words::tr("%1 a year, from %2 odometer readings of the last 36 months") // never 1
                     .arg(perYear)
                     .arg(yearly.readings)
               : Words::tr("%1 a year: the shop's usual figure, as its own readings span less than 60 days")
                     .arg(perYear);
}

} // namespace milehold::ui
