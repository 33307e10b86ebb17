// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "app/desktop/worker.h"
#include "core/life/life_record.h"
#include "core/shop/people.h"
#include "core/shop/settings.h"
#include "core/shop/shelf.h"

#include <QObject>

#include <functional>
#include <memory>
#include <optional>
#include <utility>
#include <vector>

namespace milehold::app {

/// What every room of one open window shares: the shop's settings, its shelf, its people, all lives, the unit
/// and who is at this station. Values are immutable snapshots, so that work on other threads may keep them.
class Session : public QObject {
    Q_OBJECT
public:
    using LifeRecords = std::vector<core::LifeRecord>;

    explicit Session(std::function<core::Date()> today, QObject* parent = nullptr)
        : QObject(parent), today_(std::move(today)) {}

    core::Date today() const { return today_(); }
    const core::ShopSettings& settings() const { return settings_; }
    std::shared_ptr<const core::Shelf> shelf() const { return shelf_; }
    const std::vector<core::Staff>& staff() const { return staff_; }
    /// All lives of the shop as derived from its records just now; never null.
    std::shared_ptr<const LifeRecords> lives() const { return lives_; }
    core::DistanceUnit unit() const { return unit_; }
    std::optional<core::StaffId> who() const { return who_; }

    void setSettings(const core::ShopSettings& settings) {
        settings_ = settings;
        emit settingsChanged();
        setUnit(settings.unit);
    }
    void setShelf(core::Shelf shelf) {
        shelf_ = std::make_shared<const core::Shelf>(std::move(shelf));
        emit shelfChanged();
    }
    void setStaff(std::vector<core::Staff> staff) {
        staff_ = std::move(staff);
        emit staffChanged();
    }
    void setLives(LifeRecords lives) {
        letGo(std::exchange(lives_, std::make_shared<const LifeRecords>(std::move(lives))));
        emit livesChanged();
    }
    void setUnit(core::DistanceUnit unit) {
        if (unit_ == unit)
            return;
        unit_ = unit;
        emit unitChanged();
    }
    void setWho(std::optional<core::StaffId> who) {
        if (who_ == who)
            return;
        who_ = who;
        emit whoChanged();
    }

signals:
    void settingsChanged();
    void shelfChanged();
    void staffChanged();
    void livesChanged();
    void unitChanged();
    void whoChanged();

private:
    std::function<core::Date()> today_;
    core::ShopSettings settings_;
    std::shared_ptr<const core::Shelf> shelf_ = std::make_shared<const core::Shelf>();
    std::vector<core::Staff> staff_;
    std::shared_ptr<const LifeRecords> lives_ = std::make_shared<const LifeRecords>();
    core::DistanceUnit unit_ = core::DistanceUnit::Miles;
    std::optional<core::StaffId> who_;
};

} // namespace milehold::app
