// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/vehicle_controller.h"

#include "app/desktop/call_list.h"
#include "app/desktop/error_sentence.h"
#include "storage/attachment_store.h"
#include "storage/shop.h"
#include "ui/vehicle/vehicle_page.h"
#include "ui/widgets/text.h"

namespace milehold::app {

namespace {

core::Result<ui::VehiclePageContent> readPage(storage::Shop& shop, core::VehicleId vehicle,
                                              const core::ShopSettings& rules, core::Date today) {
    ui::VehiclePageContent content;
    auto history = shop.vehicles().history(vehicle);
    if (!history)
        return core::failureOf(history);
    content.history = std::move(*history);
    if (content.history.vehicle.customer) {
        auto customer = shop.customers().find(*content.history.vehicle.customer);
        if (!customer)
            return core::failureOf(customer);
        content.customer = std::move(*customer);
    }
    // With the shelf, as every curve has them: a newer part number ends a life, too.
    const auto shelf = shop.shelf().load();
    if (!shelf)
        return core::failureOf(shelf);
    auto lives = core::deriveLives(content.history, rules, today, &*shelf);
    if (!lives)
        return core::failureOf(lives);
    content.lives = std::move(*lives);
    content.yearly = core::yearlyDistance(content.history, rules, today);
    for (const core::Job& job : content.history.jobs) {
        auto files = storage::attachmentsOf(shop).ofJob(job.id);
        if (!files)
            return core::failureOf(files);
        std::move(files->begin(), files->end(), std::back_inserter(content.files));
    }
    return content;
}

} // namespace

VehicleController::VehicleController(QWidget& window, Database& database, Session& session, QObject* parent)
    : QObject(parent), window_(window), database_(database), session_(session) {}

ui::VehiclePage* VehicleController::page() const {
    return page_;
}

void VehicleController::open(core::VehicleId vehicle) {
    database_.askNewest(
        QStringLiteral("vehicle page"), this,
        [vehicle, rules = session_.settings(), today = session_.today()](storage::Shop& shop) {
            return readPage(shop, vehicle, rules, today);
        },
        [this](core::Result<ui::VehiclePageContent> content) {
            if (!content) {
                emit said(sentenceFor(content.error()));
                return;
            }
            content->shelf = session_.shelf();
            content->unit = session_.unit();
            if (page_)
                page_->close();
            page_ = new ui::VehiclePage(std::move(*content), &window_);
            page_->setAttribute(Qt::WA_DeleteOnClose);
            // Whoever goes on from the page leaves it.
            const auto leave = [this](auto signal) {
                return [this, signal](auto id) {
                    page_->close();
                    emit(this->*signal)(id);
                };
            };
            connect(page_, &ui::VehiclePage::jobWanted, this, leave(&VehicleController::jobWanted));
            connect(page_, &ui::VehiclePage::newJobWanted, this, leave(&VehicleController::newJobWanted));
            connect(page_, &ui::VehiclePage::quoteWanted, this, leave(&VehicleController::quoteWanted));
            connect(page_, &ui::VehiclePage::fileWanted, this, &VehicleController::fileWanted);
            const core::VehicleId shown = page_->vehicle();
            connect(page_, &ui::VehiclePage::voidWanted, this,
                    [this, shown](core::FollowUpId call, qint64 revision, const QString& reason) {
                        changeCall(shown, call, revision, reason);
                    });
            connect(page_, &ui::VehiclePage::countAgainWanted, this,
                    [this, shown](core::FollowUpId call, qint64 revision) {
                        changeCall(shown, call, revision, {});
                    });
            page_->open();
        });
}

/// Voids an answer with the reason, or lets it count again without one, and shows the page anew.
void VehicleController::changeCall(core::VehicleId vehicle, core::FollowUpId call, std::int64_t revision,
                                   const QString& voidReason) {
    database_.ask(
        this,
        [call, revision, reason = ui::toUtf8(voidReason)](storage::Shop& shop) {
            return voidOrCount(shop, call, revision, reason);
        },
        [this, vehicle](const core::Result<core::FollowUp>& saved) {
            if (!saved) {
                emit said(sentenceFor(saved.error()));
                return;
            }
            emit said(saved->isVoid() ? tr("The answer is void and out of every figure. Undo: Ctrl+Z")
                                      : tr("The answer counts again. Undo: Ctrl+Z"));
            database_.announceChange();
            if (page_)
                open(vehicle);
        });
}

} // namespace milehold::app
