// SPDX-License-Identifier: GPL-3.0-or-later
#include "sample-shop/quotes.h"

#include <algorithm>
#include <map>
#include <unordered_map>

namespace milehold::sample {
namespace {

constexpr std::size_t kMostJobs = 2'000;
constexpr int kMonthsBack = 42;

core::Date monthBegin(core::Date date) {
    return core::Date{date.year(), date.month(), std::chrono::day{1}};
}

/// The part of a book that was written before a day.
core::VehicleHistory before(const core::VehicleHistory& whole, core::Date day) {
    core::VehicleHistory known = whole;
    std::erase_if(known.jobs, [&](const core::Job& job) {
        return job.writtenUp >= day || (job.delivered && *job.delivered >= day);
    });
    std::erase_if(known.followUps, [&](const core::FollowUp& call) {
        const bool orphan = std::none_of(known.jobs.begin(), known.jobs.end(),
                                         [&](const core::Job& job) { return job.id == call.job; });
        return orphan || call.date >= day;
    });
    std::erase_if(known.odometers, [&](const core::OdometerReading& reading) { return reading.date >= day; });
    return known;
}

core::Result<std::vector<core::LifeRecord>> livesBefore(const std::vector<core::VehicleHistory>& book,
                                                        const SampleShop& sample, core::Date day) {
    std::vector<core::LifeRecord> records;
    for (const core::VehicleHistory& whole : book) {
        const core::VehicleHistory known = before(whole, day);
        if (known.jobs.empty())
            continue;
        auto lives = core::deriveLives(known, sample.settings, day, &sample.shelf);
        if (!lives)
            return core::failureOf(lives);
        for (core::Life& life : *lives) {
            core::LifeRecord record;
            record.life = std::move(life);
            record.family = whole.vehicle.family;
            record.modelYear = whole.vehicle.modelYear;
            records.push_back(std::move(record));
        }
    }
    return records;
}

} // namespace

core::Result<std::vector<core::GivenQuote>> quotesGiven(const SampleShop& sample) {
    std::vector<core::GivenQuote> given;
    if (sample.jobs.size() > kMostJobs)
        return given;
    std::unordered_map<core::VehicleId, const core::Vehicle*> vehicles;
    for (const core::Vehicle& vehicle : sample.vehicles)
        vehicles.emplace(vehicle.id, &vehicle);
    const auto first = std::chrono::year_month(sample.endsOn.year(), sample.endsOn.month()) -
                       std::chrono::months(kMonthsBack);
    std::map<core::Date, std::vector<const core::Job*>> byMonth;
    for (const core::Job& job : sample.jobs)
        if (job.kind == core::JobKind::Repair && job.path && !job.isVoid() &&
            job.writtenUp >= first / std::chrono::day(1))
            byMonth[monthBegin(job.writtenUp)].push_back(&job);
    const auto book = histories(sample);
    for (const auto& [month, jobs] : byMonth) {
        const auto lives = livesBefore(book, sample, month);
        if (!lives)
            return core::failureOf(lives);
        for (const core::Job* job : jobs) {
            const core::Vehicle& vehicle = *vehicles.at(job->vehicle);
            core::QuoteSubject subject;
            subject.family = vehicle.family;
            subject.modelYear = vehicle.modelYear;
            subject.yearly.perYear = sample.settings.defaultYearly;
            core::QuoteOptions options;
            options.unit = sample.settings.unit;
            options.dataDate = job->writtenUp;
            const auto quote = core::makeQuote(*lives, subject, sample.shelf, sample.settings, options);
            if (!quote)
                return core::failureOf(quote);
            const auto path =
                std::find_if(quote->paths.begin(), quote->paths.end(),
                             [&](const core::PathQuote& told) { return told.path == *job->path; });
            if (path == quote->paths.end())
                continue;
            core::GivenQuote kept =
                core::givenQuote(*quote, static_cast<std::size_t>(path - quote->paths.begin()), vehicle.id);
            kept.job = job->id;
            kept.by = job->advisor;
            // The same options give the same ids: that of the job, marked.
            kept.id.uuid = job->id.uuid;
            kept.id.uuid.bytes[0] ^= 0x51;
            kept.id.uuid.bytes[15] ^= 0x15;
            given.push_back(std::move(kept));
        }
    }
    return given;
}

} // namespace milehold::sample
