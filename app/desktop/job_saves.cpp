// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/job_saves.h"

#include "storage/shop.h"

#include <QCoreApplication>

#include <memory>

namespace milehold::app {
namespace {

struct Words {
    Q_DECLARE_TR_FUNCTIONS(JobSaves)
};

/// The revisions that undo and redo find if nobody else saved in between.
struct Revisions {
    std::int64_t job = 0;
    std::int64_t vehicle = 0;
    std::int64_t customer = 0;
};

std::shared_ptr<Revisions> revisionsOf(const storage::JobBundle& bundle) {
    return std::make_shared<Revisions>(Revisions{bundle.job.revision,
                                                 bundle.vehicle ? bundle.vehicle->revision : 0,
                                                 bundle.customer ? bundle.customer->revision : 0});
}

core::Result<void> saveAt(storage::Shop& shop, storage::JobBundle bundle, Revisions& at) {
    bundle.job.revision = at.job;
    if (bundle.vehicle)
        bundle.vehicle->revision = at.vehicle;
    if (bundle.customer)
        bundle.customer->revision = at.customer;
    const auto saved = saveBundle(shop, std::move(bundle));
    if (!saved)
        return core::failureOf(saved);
    at = *revisionsOf(*saved);
    return {};
}

core::Result<void> voidAt(storage::Shop& shop, core::JobId id, const std::string& reason, Revisions& at) {
    const auto job = shop.jobs().voidJob(id, at.job, reason);
    if (!job)
        return core::failureOf(job);
    at.job = job->revision;
    return {};
}

core::Result<void> unvoidAt(storage::Shop& shop, core::JobId id, Revisions& at) {
    const auto job = shop.jobs().unvoidJob(id, at.job);
    if (!job)
        return core::failureOf(job);
    at.job = job->revision;
    return {};
}

} // namespace

core::Result<storage::JobBundle> saveBundle(storage::Shop& shop, storage::JobBundle bundle) {
    const storage::JobBundle wanted = bundle;
    auto saved = shop.jobs().save(std::move(bundle));
    if (saved || saved.error().code != core::ErrorCode::OutcomeUnknown)
        return saved;
    const auto found = shop.jobs().find(wanted.job.id);
    if (!found || found->revision != wanted.job.revision + 1)
        return saved;
    storage::JobBundle arrived = wanted;
    arrived.job = *found;
    if (wanted.vehicle)
        if (const auto vehicle = shop.vehicles().find(wanted.vehicle->id))
            arrived.vehicle = *vehicle;
    if (wanted.customer)
        if (const auto customer = shop.customers().find(wanted.customer->id))
            arrived.customer = *customer;
    return arrived;
}

ReversibleSave undoOfNewJob(const QString& what, const storage::JobBundle& saved) {
    auto at = revisionsOf(saved);
    const std::string reason = Words::tr("Taken back right after it was saved").toStdString();
    return {what,
            [at, id = saved.job.id, reason](storage::Shop& shop) { return voidAt(shop, id, reason, *at); },
            [at, id = saved.job.id](storage::Shop& shop) { return unvoidAt(shop, id, *at); }};
}

ReversibleSave undoOfChange(const QString& what, const storage::JobBundle& before,
                            const storage::JobBundle& after) {
    auto at = revisionsOf(after);
    return {what, [at, before](storage::Shop& shop) { return saveAt(shop, before, *at); },
            [at, after](storage::Shop& shop) { return saveAt(shop, after, *at); }};
}

ReversibleSave undoOfVoid(const QString& what, const core::Job& job) {
    auto at = std::make_shared<Revisions>(Revisions{job.revision, 0, 0});
    return {what, [at, id = job.id](storage::Shop& shop) { return unvoidAt(shop, id, *at); },
            [at, id = job.id, reason = job.voidReason](storage::Shop& shop) {
                return voidAt(shop, id, reason, *at);
            }};
}

ReversibleSave undoOfUnvoid(const QString& what, const core::Job& job, const std::string& reason) {
    auto at = std::make_shared<Revisions>(Revisions{job.revision, 0, 0});
    return {what, [at, id = job.id, reason](storage::Shop& shop) { return voidAt(shop, id, reason, *at); },
            [at, id = job.id](storage::Shop& shop) { return unvoidAt(shop, id, *at); }};
}

ReversibleSave undoOfReading(const QString& what, const core::OdometerReading& reading) {
    auto at = std::make_shared<std::int64_t>(reading.revision);
    return {what,
            [at, id = reading.id](storage::Shop& shop) { return shop.vehicles().removeOdometer(id, *at); },
            [at, reading](storage::Shop& shop) -> core::Result<void> {
                core::OdometerReading again = reading;
                again.revision = 0;
                const auto kept = shop.vehicles().saveOdometer(again);
                if (!kept)
                    return core::failureOf(kept);
                *at = kept->revision;
                return {};
            }};
}

} // namespace milehold::app
