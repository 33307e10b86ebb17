// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/bay/job_form.h"

#include "core/shop/fill.h"
#include "core/shop/validation.h"
#include "ui/bay/arrival_section.h"
#include "ui/bay/comeback_section.h"
#include "ui/bay/concern_section.h"
#include "ui/bay/delivery_section.h"
#include "ui/bay/found_section.h"
#include "ui/bay/merge_edits.h"
#include "ui/bay/parts_section.h"
#include "ui/bay/path_section.h"
#include "ui/bay/vehicle_section.h"
#include "ui/bay/work_section.h"
#include "ui/theme/theme.h"
#include "ui/widgets/findings.h"
#include "ui/widgets/segmented.h"

#include <QApplication>
#include <QLabel>
#include <QPointer>
#include <QScrollArea>
#include <QScrollBar>
#include <QTimer>

namespace milehold::ui {
namespace {

constexpr int kRestMs = 450;

QString rootOf(const QString& field) {
    const auto bracket = field.indexOf(QChar('['));
    return bracket < 0 ? field : field.left(bracket);
}

/// Where a field lies on the sheet together with its label and what was found about it.
QRect placeOf(const QWidget& field, const QWidget& sheet) {
    const auto on = [&sheet](const QWidget& part) {
        return QRect(part.mapTo(&sheet, QPoint(0, 0)), part.size());
    };
    QRect place = on(field);
    QString told = field.accessibleDescription();
    for (const auto* label : sheet.findChildren<QLabel*>())
        if (const QWidget* named = label->buddy();
            named && label->isVisible() && (named == &field || named->isAncestorOf(&field))) {
            place |= on(*label) | on(*named);
            told = named->accessibleDescription();
        }
    // A finding is said to whoever hears the field, so its words tell which one belongs to it.
    for (const auto* finding : sheet.findChildren<InlineFinding*>())
        if (!told.isEmpty() && finding->isVisible() && finding->text() == told)
            place |= on(*finding);
    return place;
}

void addPrefixed(core::Findings& all, const char* prefix, const core::Findings& some) {
    for (auto finding : some) {
        finding.field = prefix + finding.field;
        all.push_back(std::move(finding));
    }
}

} // namespace

JobForm::JobForm(QWidget* parent) : QWidget(parent), rest_(new QTimer(this)) {
    build();
    layOut();
    for (auto* section : sections()) {
        connect(section, &JobSection::edited, this, &JobForm::onEdited);
    }
    connect(vehicle_, &VehicleSection::edited, this, &JobForm::onVehicleEdited);
    connect(arrival_, &ArrivalSection::instrumentReplaced, this, &JobForm::instrumentReplaced);
    connect(path_, &PathSection::pathChosen, this, &JobForm::onPathChosen);
    connect(kind_, &Segmented::chosen, this, &JobForm::onKindOrStage);
    connect(stage_, &Segmented::chosen, this, &JobForm::onKindOrStage);
    rest_->setSingleShot(true);
    rest_->setInterval(kRestMs);
    connect(rest_, &QTimer::timeout, this, &JobForm::refreshFindings);
    connect(qApp, &QApplication::focusChanged, this, [this](QWidget* old, QWidget* now) {
        // However the keyboard got there: nobody types into what is not on view.
        if (now && scroll_->widget()->isAncestorOf(now))
            // Not at once: a sheet that has just been opened is not laid out yet.
            QTimer::singleShot(0, this, [this, field = QPointer<QWidget>(now)] { showField(field); });
        if (!old || !isAncestorOf(old))
            return;
        for (const QWidget* widget = old; widget != this && widget; widget = widget->parentWidget())
            if (!widget->objectName().isEmpty() && !widget->objectName().startsWith(QLatin1String("qt_")))
                visited_.insert(widget->objectName());
        refreshFindings();
        emit fieldLeft();
    });
    vehicle_->hide();
    show(JobCard{});
}

std::vector<JobSection*> JobForm::sections() const {
    return {comeback_, arrival_, path_, parts_, concern_, found_, work_, delivery_};
}

void JobForm::setContext(const BayContext& context) {
    // Fields are filled anew from what they hold, so that a change of unit changes no distance.
    const JobCard now = card();
    const auto texts = unfinished();
    context_ = context;
    vehicle_->setContext(context);
    for (auto* section : sections())
        section->setContext(context);
    show(now);
    setUnfinished(texts);
    refreshFindings();
}

void JobForm::setCard(const JobCard& stored, const JobCard& shown) {
    stored_ = stored;
    showAll_ = stored.job.revision > 0;
    show(shown);
    scroll_->verticalScrollBar()->setValue(0);
    forgetVisits();
}

void JobForm::showField(const QWidget* field) {
    if (!field || !field->isVisible() || !scroll_->widget()->isAncestorOf(field))
        return;
    const QRect seen = placeOf(*field, *scroll_->widget());
    const QSize room = scroll_->viewport()->size();
    // What is higher than the window is shown from its top, where its label stands.
    const int down = std::min(seen.height() / 2 + kGrid, room.height() / 2);
    const int across = std::min(seen.width() / 2 + kGrid, room.width() / 2);
    scroll_->ensureVisible(seen.center().x(), seen.top() + std::max(0, down - kGrid), across, down);
}

void JobForm::forgetVisits() {
    visited_.clear();
    refreshFindings();
}

void JobForm::show(const JobCard& card) {
    base_ = card;
    vehicle_->showCard(card);
    for (auto* section : sections()) {
        section->setVehicle(card.vehicle);
        section->showJob(card.job);
    }
    kind_->setCurrent(static_cast<int>(card.job.kind));
    stage_->setCurrent(card.job.isDelivered() ? 1 : 0);
    updateStage();
    shown_ = read(base_);
    oddTexts_ = unfinishedText(this);
}

JobCard JobForm::read(const JobCard& base) const {
    JobCard now = base;
    vehicle_->readInto(now);
    for (const auto* section : sections())
        section->readInto(now.job);
    if (const int kind = kind_->current(); kind >= 0)
        now.job.kind = static_cast<core::JobKind>(kind);
    return now;
}

JobCard JobForm::card() const {
    const JobCard now = read(base_);
    JobCard card = mergeEdits(base_, shown_, now);
    if (card.job.kind == core::JobKind::Visit && base_.job.kind != core::JobKind::Visit) {
        // A job that became a visit for something else says nothing about a repair.
        card.job.path.reset();
        card.job.parts.clear();
        card.job.deliveryCheck = core::DeliveryCheck::NotDone;
        card.job.after = {};
    }
    return card;
}

void JobForm::setPast(const core::VehicleHistory& past) {
    past_ = past;
    comeback_->setPast(past);
    comeback_->propose(card().job);
    refreshFindings();
}

std::map<std::string, std::string> JobForm::unfinished() const {
    auto texts = unfinishedText(this);
    std::erase_if(texts, [this](const auto& text) {
        const auto found = oddTexts_.find(text.first);
        return found != oddTexts_.end() && found->second == text.second;
    });
    return texts;
}

void JobForm::setUnfinished(const std::map<std::string, std::string>& texts) {
    restoreUnfinished(this, texts);
}

void JobForm::updateStage() {
    const auto kind = static_cast<core::JobKind>(std::max(0, kind_->current()));
    const bool finished = stage_->current() == 1;
    arrival_->setStage(kind, finished);
    repairOnly_->setVisible(kind != core::JobKind::Visit);
    delivery_->setVisible(kind == core::JobKind::Repair && finished);
}

void JobForm::onKindOrStage() {
    const auto before = base_.job.kind;
    updateStage();
    JobCard now = card();
    if (now.job.kind != before) {
        const bool visit = now.job.kind == core::JobKind::Visit;
        // The concern of a visit decides whether earlier repairs were quiet then: none until somebody says
        // so.
        if (visit && now.job.concern.empty())
            now.job.concernGroup = core::ConcernGroup::None;
        else if (!visit && now.job.concernGroup == core::ConcernGroup::None)
            now.job.concernGroup = core::ConcernGroup::StartupRattle;
        show(now);
        stage_->setCurrent(now.job.isDelivered() ? 1 : 0);
    }
    onEdited();
}

void JobForm::onPathChosen() {
    JobCard now = card();
    const auto chosen = now.job.path;
    const core::RepairPath* path = chosen ? context_.shelf->find(*chosen) : nullptr;
    if (!path)
        return;
    // What the path so far had filled in is replaced; what the person changed stays.
    now.job.path = base_.job.path;
    const core::EngineFamily* engine =
        now.vehicle.family ? context_.shelf->find(*now.vehicle.family) : nullptr;
    now.job = core::withPath(now.job, *path, *context_.shelf, context_.settings, engine);
    now.job.path = chosen;
    const auto texts = unfinished();
    show(now);
    setUnfinished(texts);
}

void JobForm::onVehicleEdited() {
    const JobCard now = card();
    for (auto* section : sections())
        section->setVehicle(now.vehicle);
    onEdited();
}

void JobForm::onEdited() {
    const JobCard now = card();
    comeback_->propose(now.job);
    path_->setCalibration(now.job.calibrationBefore);
    if (const QWidget* field = focusWidget(); field && !field->objectName().isEmpty())
        visited_.insert(field->objectName());
    rest_->start();
    emit edited();
}

core::Findings JobForm::findings() const {
    const JobCard now = card();
    core::VehicleHistory past = past_;
    past.vehicle = now.vehicle;
    core::Findings all = unfinishedFindings(this, unfinished());
    const auto holds = [&all](const core::Finding& finding) {
        return std::any_of(all.begin(), all.end(),
                           [&](const core::Finding& other) { return other.field == finding.field; });
    };
    // A field whose text cannot be read says that, and not that it is empty.
    for (const auto& finding : core::validate(now.job, *context_.shelf, past))
        if (!holds(finding))
            all.push_back(finding);
    if (stage_->current() == 1 && !now.job.isDelivered() && !holds({"delivered", {}, {}}))
        all.push_back(
            {"delivered", core::Severity::Error, tr("Enter the day, or choose \"In work\".").toStdString()});
    if (now.vehicle != stored_.vehicle || stored_.vehicle.revision == 0)
        addPrefixed(all, "vehicle.", core::validate(now.vehicle));
    if (now.customer && now.customer != stored_.customer)
        addPrefixed(all, "customer.", core::validate(*now.customer));
    return all;
}

bool JobForm::isOnView(const core::Finding& finding) const {
    const QString field = QString::fromStdString(finding.field);
    return showAll_ || visited_.contains(field) || visited_.contains(rootOf(field)) ||
           (field.startsWith(QLatin1String("parts[")) && visited_.contains(QStringLiteral("path")));
}

void JobForm::refreshFindings() {
    core::Findings onView;
    for (const auto& finding : findings())
        if (isOnView(finding))
            onView.push_back(finding);
    onView = vehicle_->setFindings(onView);
    for (auto* section : sections())
        onView = section->setFindings(onView);
}

void JobForm::showAllFindings() {
    showAll_ = true;
    refreshFindings();
}

bool JobForm::focusField(const QString& name) {
    if (vehicle_->focusField(name)) {
        vehicle_->show();
        return vehicle_->focusField(name);
    }
    for (auto* section : sections())
        if (section->focusField(name))
            return true;
    return false;
}

void JobForm::focusFirst() {
    if (vehicle_->isVisibleTo(this))
        vehicle_->focusField(QStringLiteral("vehicle.vin"));
    else
        arrival_->focusField(QStringLiteral("odometerIn"));
}

void JobForm::setVehicleShown(bool shown) {
    vehicle_->setVisible(shown);
}

bool JobForm::isVehicleShown() const {
    return vehicle_->isVisibleTo(this);
}

} // namespace milehold::ui
