// SPDX-License-Identifier: GPL-3.0-or-later
#include "sample-shop/quotes.h"
#include "sample-shop/sample_shop.h"
#include "storage/customer_store.h"
#include "storage/follow_up_store.h"
#include "storage/job_store.h"
#include "storage/quote_store.h"
#include "storage/shelf_store.h"
#include "storage/shop.h"
#include "storage/staff_store.h"
#include "storage/vehicle_store.h"

#include <algorithm>

namespace milehold::sample {
namespace {

/// Saves every record of a list; a failure names the record by its place, never by its content.
template <class Records, class Save>
core::Result<void> saveAll(const Records& records, std::string_view what, const Save& save) {
    std::size_t place = 0;
    for (const auto& record : records) {
        ++place;
        if (auto saved = save(record); !saved)
            return core::fail(saved.error().code, "the sample's " + std::string(what) + " number " +
                                                      std::to_string(place) + ": " + saved.error().detail);
    }
    return {};
}

/// The newer of two parts or calibrations must stand before the older one can name it, or the other way
/// about.
core::Result<void> writeShelf(const core::Shelf& shelf, storage::Shop& shop) {
    const auto put = [&](const auto& record) { return shop.shelf().save(record); };
    if (auto done = saveAll(shelf.families, "engine family", put); !done)
        return done;
    const std::vector<core::PartNumber> newestFirst(shelf.parts.rbegin(), shelf.parts.rend());
    if (auto done = saveAll(newestFirst, "part number", put); !done)
        return done;
    if (auto done = saveAll(shelf.calibrations, "calibration", put); !done)
        return done;
    if (auto done = saveAll(shelf.paths, "repair path", put); !done)
        return done;
    return saveAll(shelf.notes, "note", put);
}

/// Jobs, calls and typed readings in the order of their days, as they would have been written.
class History {
public:
    History(const SampleShop& sample, storage::Shop& shop, const Progress& progress)
        : sample_(sample), shop_(shop), progress_(progress),
          all_(sample.jobs.size() + sample.followUps.size() + sample.odometers.size()) {}

    core::Result<void> writeAll() {
        for (const core::Job& job : sample_.jobs) {
            const core::Date day = loggedOn(job);
            if (auto done = writeUntil(day); !done)
                return done;
            storage::JobBundle bundle;
            bundle.job = job;
            bundle.job.number = 0; // the shop's counter gives the same
            if (auto saved = shop_.jobs().save(std::move(bundle)); !saved)
                return at("job", static_cast<std::size_t>(job.number), saved.error());
            count();
        }
        return writeUntil(core::addDays(sample_.endsOn, 1));
    }

private:
    /// A repair elsewhere is written down when the vehicle first comes in, with the job after it.
    core::Date loggedOn(const core::Job& job) const {
        if (job.kind != core::JobKind::Elsewhere)
            return job.writtenUp;
        const std::size_t next = static_cast<std::size_t>(&job - sample_.jobs.data()) + 1;
        return next < sample_.jobs.size() ? sample_.jobs[next].writtenUp : job.writtenUp;
    }

    core::Result<void> writeUntil(core::Date day) {
        while (reading_ < sample_.odometers.size() && sample_.odometers[reading_].date < day) {
            if (auto saved = shop_.vehicles().saveOdometer(sample_.odometers[reading_]); !saved)
                return at("odometer reading", reading_ + 1, saved.error());
            ++reading_;
            count();
        }
        while (call_ < sample_.followUps.size() && sample_.followUps[call_].date < day) {
            if (auto saved = shop_.followUps().save(sample_.followUps[call_]); !saved)
                return at("follow-up", call_ + 1, saved.error());
            ++call_;
            count();
        }
        return {};
    }

    static tl::unexpected<core::Error> at(std::string_view what, std::size_t place, const core::Error& why) {
        return core::fail(why.code, "the sample's " + std::string(what) + " number " + std::to_string(place) +
                                        ": " + why.detail);
    }

    void count() {
        ++done_;
        if (progress_ && (done_ % 500 == 0 || done_ == all_))
            progress_(done_, all_);
    }

    const SampleShop& sample_;
    storage::Shop& shop_;
    const Progress& progress_;
    std::size_t all_;
    std::size_t done_ = 0;
    std::size_t reading_ = 0;
    std::size_t call_ = 0;
};

core::Result<void> writeRecords(const SampleShop& sample, storage::Shop& shop, const Progress& progress) {
    auto settings = shop.settings();
    if (!settings)
        return core::failureOf(settings);
    core::ShopSettings wanted = sample.settings;
    wanted.revision = settings->revision;
    if (auto saved = shop.saveSettings(wanted); !saved)
        return core::failureOf(saved);

    if (auto done =
            saveAll(sample.staff, "person", [&](const core::Staff& row) { return shop.staff().save(row); });
        !done)
        return done;
    shop.setWho({sample.staff.empty() ? std::nullopt : std::optional(sample.staff.front().id), "sample"});
    if (auto done = writeShelf(sample.shelf, shop); !done)
        return done;
    const auto customer = [&](core::Customer row) { return shop.customers().save(std::move(row)); };
    if (auto done = saveAll(sample.customers, "customer", customer); !done)
        return done;
    const auto vehicle = [&](const core::Vehicle& row) { return shop.vehicles().save(row); };
    if (auto done = saveAll(sample.vehicles, "vehicle", vehicle); !done)
        return done;
    if (auto done = History(sample, shop, progress).writeAll(); !done)
        return done;
    const auto quotes = quotesGiven(sample);
    if (!quotes)
        return core::failureOf(quotes);
    return saveAll(*quotes, "quote",
                   [&](const core::GivenQuote& row) { return storage::QuoteStore(shop).save(row); });
}

} // namespace

core::Result<void> write(const SampleShop& sample, storage::Shop& shop, const Progress& progress) {
    return shop.together([&] { return writeRecords(sample, shop, progress); });
}

} // namespace milehold::sample
