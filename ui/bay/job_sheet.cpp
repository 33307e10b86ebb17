// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/bay/job_sheet.h"

#include "ui/bay/instrument_row.h"
#include "ui/bay/tab_order.h"
#include "ui/bay/vehicle_bar.h"
#include "ui/bay/vehicle_picker.h"
#include "ui/shell/message_bar.h"
#include "ui/theme/theme.h"
#include "ui/widgets/text.h"

#include <QHBoxLayout>
#include <QKeyEvent>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>
#include <QShortcut>
#include <QStackedWidget>
#include <QVBoxLayout>

#include <algorithm>
#include <iterator>

namespace milehold::ui {

JobSheet::JobSheet(QWidget* parent)
    : QWidget(parent), pages_(new QStackedWidget(this)), picker_(new VehiclePicker(this)),
      bar_(new VehicleBar(this)), notices_(new MessageBar(this)), form_(new JobForm(this)),
      instrument_(new InstrumentRow(this)) {
    auto* sheet = new QWidget(this);
    auto* stack = new QVBoxLayout(sheet);
    stack->setContentsMargins(0, 0, 0, 0);
    stack->setSpacing(0);
    stack->addWidget(bar_);
    stack->addWidget(notices_);
    stack->addWidget(form_, 1);
    makeActions();
    stack->addWidget(voidRow_);
    stack->addWidget(instrument_);
    instrument_->hide();

    pages_->addWidget(picker_);
    pages_->addWidget(sheet);
    auto* whole = new QVBoxLayout(this);
    whole->setContentsMargins(0, 0, 0, 0);
    whole->addWidget(pages_);

    connect(form_, &JobForm::edited, this, &JobSheet::onEdited);
    connect(form_, &JobForm::fieldLeft, this, &JobSheet::fieldLeft);
    connect(picker_->search(), &SearchBox::queryChanged, this, &JobSheet::vehicleQueried);
    connect(picker_->search(), &SearchBox::chosen, this, &JobSheet::vehicleChosen);
    connect(picker_, &VehiclePicker::closeWanted, this, &JobSheet::closeWanted);
    connect(picker_, &VehiclePicker::jobChosen, this, &JobSheet::jobActivated);
    connect(bar_, &VehicleBar::closeWanted, this, &JobSheet::closeWanted);
    connect(bar_, &VehicleBar::jobActivated, this, &JobSheet::jobActivated);
    const auto toggleVehicle = [this] {
        form_->setVehicleShown(!form_->isVehicleShown());
        form_->focusFirst();
    };
    connect(bar_, &VehicleBar::vehicleEditToggled, this, toggleVehicle);
    connect(notices_, &MessageBar::actionChosen, this, &JobSheet::noticeAnswered);
    const auto shortcut = [this](const QKeySequence& keys, auto act) {
        auto* made = new QShortcut(keys, this);
        made->setContext(Qt::WidgetWithChildrenShortcut);
        made->setAutoRepeat(false);
        connect(made, &QShortcut::activated, this, act);
    };
    shortcut(QKeySequence::Save, [this] { save(); });
    shortcut(Qt::CTRL | Qt::Key_Return, [this] { save(); });
    shortcut(Qt::Key_F2, toggleVehicle);
    shortcut(Qt::Key_F8, [this] { goToNextFinding(); });
    connect(form_, &JobForm::instrumentReplaced, this,
            [this] { instrument_->ask(form_->card().job.writtenUp); });
    connect(instrument_, &InstrumentRow::cancelled, instrument_, &QWidget::hide);
    connect(instrument_, &InstrumentRow::confirmed, this, [this] {
        if (const auto reading = instrument_->reading(past_)) {
            instrument_->hide();
            form_->focusField(QStringLiteral("odometerIn"));
            emit instrumentReplaced(*reading);
        }
    });
}

void JobSheet::makeActions() {
    todo_ = new QPushButton(form_);
    todo_->setObjectName(QStringLiteral("todo"));
    theme::setRole(todo_, ButtonRole::Quiet);
    todo_->hide();
    connect(todo_, &QPushButton::clicked, this, &JobSheet::goToNextFinding);
    voidButton_ = new QPushButton(tr("Void the job"), form_);
    theme::setRole(voidButton_, ButtonRole::Quiet);
    saveButton_ = new QPushButton(form_);
    saveButton_->setObjectName(QStringLiteral("save"));
    theme::setRole(saveButton_, ButtonRole::Primary);
    theme::setLarge(saveButton_);
    saveButton_->setMinimumWidth(168);
    saveButton_->setToolTip(tr("Ctrl+S"));
    form_->actions()->addStretch(1);
    form_->actions()->addWidget(todo_, 0, Qt::AlignBottom);
    form_->actions()->addWidget(voidButton_, 0, Qt::AlignBottom);
    form_->actions()->addWidget(saveButton_, 0, Qt::AlignBottom);

    voidRow_ = new QWidget(this);
    auto* row = new QHBoxLayout(voidRow_);
    row->setContentsMargins(kMargin, kGrid, kMargin, kGrid);
    auto* label = new QLabel(tr("Why is this job void?"), voidRow_);
    voidReason_ = new QLineEdit(voidRow_);
    voidReason_->setObjectName(QStringLiteral("voidReason"));
    label->setBuddy(voidReason_);
    auto* confirm = new QPushButton(tr("Void the job: it drops out of every figure"), voidRow_);
    confirm->setObjectName(QStringLiteral("voidConfirm"));
    theme::setRole(confirm, ButtonRole::Danger);
    auto* cancel = new QPushButton(tr("Keep the job"), voidRow_);
    row->addWidget(label);
    row->addWidget(voidReason_, 1);
    row->addWidget(confirm);
    row->addWidget(cancel);
    voidRow_->hide();

    connect(saveButton_, &QPushButton::clicked, this, &JobSheet::save);
    connect(voidButton_, &QPushButton::clicked, this, [this] {
        if (form_->stored().job.isVoid())
            emit unvoidWanted();
        else
            askToVoid(true);
    });
    connect(cancel, &QPushButton::clicked, this, [this] { askToVoid(false); });
    const auto voidIt = [this] {
        if (!voidReason_->text().trimmed().isEmpty())
            emit voidWanted(voidReason_->text().trimmed());
    };
    connect(confirm, &QPushButton::clicked, this, voidIt);
    connect(voidReason_, &QLineEdit::returnPressed, this, voidIt);
    connect(voidReason_, &QLineEdit::textChanged, confirm,
            [confirm](const QString& typed) { confirm->setEnabled(!typed.trimmed().isEmpty()); });
    confirm->setEnabled(false);
}

void JobSheet::setContext(const BayContext& context) {
    context_ = context;
    form_->setContext(context);
    bar_->setContext(context);
    instrument_->setContext(context);
    bar_->setCard(form_->card());
}

void JobSheet::askForVehicle(const JobCard& blank) {
    form_->setCard(blank);
    past_ = {};
    pages_->setCurrentIndex(0);
    picker_->start();
}

bool JobSheet::isAskingForVehicle() const {
    return pages_->currentIndex() == 0;
}

SearchBox* JobSheet::vehicleSearch() const {
    return picker_->search();
}

void JobSheet::setJobsInWork(const QList<JobInWork>& jobs) {
    picker_->setJobsInWork(jobs);
}

void JobSheet::setVehicleResults(const QString& query, const QList<SearchResult>& results) {
    picker_->search()->setResults(query, results);
}

void JobSheet::open(const JobCard& stored, const JobCard& shown, const core::VehicleHistory& past,
                    const std::vector<core::Life>& lives) {
    past_ = past;
    asked_ = false;
    for (const auto* id : {"conflict", "in-work", "draft", "problem"})
        notices_->remove(QLatin1String(id));
    askToVoid(false);
    instrument_->hide();
    form_->setPast(past);
    form_->setCard(stored, shown);
    form_->setPast(past);
    form_->setVehicleShown(shown.vehicle.revision == 0);
    bar_->setCard(shown);
    bar_->setPast(past, lives);
    setSaving(false);
    pages_->setCurrentIndex(1);
    form_->focusFirst();
    if (stored.job.revision == 0)
        form_->forgetVisits(); // the field that the keyboard came from belonged to another job
    lastFinding_.clear();
}

void JobSheet::setPast(const core::VehicleHistory& past, const std::vector<core::Life>& lives) {
    past_ = past;
    form_->setPast(past);
    bar_->setPast(past, lives);
}

void JobSheet::showNotice(const QString& id, const QString& text, const QStringList& actions, bool needsYou) {
    MessageBar::Message message;
    message.id = id;
    message.kind = needsYou ? MessageBar::Kind::NeedsYou : MessageBar::Kind::Tells;
    message.text = text;
    message.actions = actions;
    notices_->show(message);
}

void JobSheet::removeNotice(const QString& id) {
    notices_->remove(id);
}

void JobSheet::setSaving(bool saving) {
    saving_ = saving;
    updateActions();
}

void JobSheet::onEdited() {
    // A warning that was asked about is asked about anew only when others came up.
    asked_ = false;
    bar_->setCard(form_->card());
    updateActions();
    emit edited();
}

void JobSheet::updateActions() {
    const bool isVoid = form_->stored().job.isVoid();
    saveButton_->setEnabled(!saving_ && !isVoid);
    saveButton_->setText(saving_ ? tr("Saving") : asked_ ? tr("Save anyway") : tr("&Save the job"));
    voidButton_->setVisible(form_->stored().job.revision > 0);
    voidButton_->setText(isVoid ? tr("Take the void back") : tr("Void the job"));
    if (!asked_)
        todo_->hide();
}

void JobSheet::askToVoid(bool ask) {
    voidRow_->setVisible(ask);
    voidReason_->clear();
    if (ask)
        voidReason_->setFocus();
}

void JobSheet::listFindings(const core::Findings& findings, const QString& text) {
    lastFinding_.clear();
    QStringList all;
    for (const auto& finding : findings)
        all << withLocalDates(toText(finding.message));
    todo_->setText(text);
    todo_->setToolTip(tr("Goes to the next one (F8):\n%1").arg(all.join(QChar('\n'))));
    todo_->setAccessibleDescription(all.join(QChar(' ')));
    todo_->show();
}

void JobSheet::goToNextFinding() {
    // Asked anew at each press: what has been put right meanwhile is not gone back to.
    form_->showAllFindings();
    core::Findings left = form_->findings();
    std::erase_if(left,
                  [](const core::Finding& finding) { return finding.severity == core::Severity::Hint; });
    if (left.empty())
        return;
    std::stable_sort(left.begin(), left.end(),
                     [](const auto& a, const auto& b) { return a.severity > b.severity; });
    auto next = std::find_if(left.begin(), left.end(),
                             [this](const auto& finding) { return finding.field == lastFinding_; });
    // A finding about the job as a whole has no field of its own to go to.
    for (std::size_t tried = 0; tried < left.size(); ++tried) {
        next = next == left.end() || std::next(next) == left.end() ? left.begin() : std::next(next);
        lastFinding_ = next->field;
        if (form_->focusField(toText(lastFinding_)))
            return;
    }
}

void JobSheet::save() {
    if (saving_ || isAskingForVehicle() || form_->stored().job.isVoid())
        return;
    form_->showAllFindings();
    core::Findings grave = form_->findings();
    std::erase_if(grave,
                  [](const core::Finding& finding) { return finding.severity == core::Severity::Hint; });
    if (core::hasErrors(grave)) {
        asked_ = false;
        std::erase_if(grave,
                      [](const core::Finding& finding) { return finding.severity != core::Severity::Error; });
        updateActions();
        listFindings(grave, grave.size() == 1 ? tr("Not saved: 1 thing to put right")
                                              : tr("Not saved: %1 things to put right").arg(grave.size()));
        goToNextFinding();
        return;
    }
    if (!grave.empty() && !asked_) {
        asked_ = true;
        updateActions();
        listFindings(grave, grave.size() == 1 ? tr("1 thing to check first")
                                              : tr("%1 things to check first").arg(grave.size()));
        saveButton_->setFocus();
        return;
    }
    asked_ = false;
    emit saveWanted();
}

bool JobSheet::focusNextPrevChild(bool next) {
    return focusNextStop(pages_->currentWidget(), next);
}

void JobSheet::keyPressEvent(QKeyEvent* event) {
    if (event->key() == Qt::Key_Escape) {
        if (voidRow_->isVisible())
            askToVoid(false);
        else if (instrument_->isVisible())
            instrument_->hide();
        else
            emit closeWanted();
        return;
    }
    QWidget::keyPressEvent(event);
}

} // namespace milehold::ui
