// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/bay/job_sheet.h"

#include "ui/bay/tab_order.h"
#include "ui/bay/vehicle_bar.h"
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
#include <QToolButton>
#include <QVBoxLayout>

#include <algorithm>

namespace milehold::ui {

JobSheet::JobSheet(QWidget* parent)
    : QWidget(parent), pages_(new QStackedWidget(this)), bar_(new VehicleBar(this)),
      notices_(new MessageBar(this)), form_(new JobForm(this)) {
    auto* sheet = new QWidget(this);
    auto* stack = new QVBoxLayout(sheet);
    stack->setContentsMargins(0, 0, 0, 0);
    stack->setSpacing(0);
    stack->addWidget(bar_);
    stack->addWidget(notices_);
    stack->addWidget(form_, 1);
    makeActions();
    stack->addWidget(voidRow_);

    pages_->addWidget(makePicker());
    pages_->addWidget(sheet);
    auto* whole = new QVBoxLayout(this);
    whole->setContentsMargins(0, 0, 0, 0);
    whole->addWidget(pages_);

    connect(form_, &JobForm::edited, this, &JobSheet::onEdited);
    connect(form_, &JobForm::fieldLeft, this, &JobSheet::fieldLeft);
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
}

QWidget* JobSheet::makePicker() {
    auto* page = new QWidget(this);
    auto* stack = new QVBoxLayout(page);
    stack->setContentsMargins(kMargin, kMargin, kMargin, kMargin);
    stack->setSpacing(kGrid);
    auto* head = new QHBoxLayout;
    auto* back = new QToolButton(page);
    back->setText(tr("Back to the jobs"));
    back->setToolButtonStyle(Qt::ToolButtonTextOnly);
    connect(back, &QToolButton::clicked, this, &JobSheet::closeWanted);
    head->addWidget(back);
    head->addStretch(1);
    stack->addLayout(head);
    stack->addStretch(1);
    auto* title = new QLabel(tr("Whose vehicle?"), page);
    theme::setText(title, TextRole::Title);
    auto* hint =
        new QLabel(tr("Scan the VIN. Or type its last eight characters, the plate, the customer, the phone "
                      "or a repair order."),
                   page);
    theme::setText(hint, TextRole::Body, true);
    hint->setWordWrap(true);
    search_ = new SearchBox(page);
    search_->setObjectName(QStringLiteral("vehicleSearch"));
    search_->setAccessibleName(tr("Vehicle: scan or search"));
    search_->setPlaceholderText(tr("VIN, plate, name, phone, repair order"));
    theme::setLarge(search_);
    title->setBuddy(search_);
    for (QWidget* widget :
         {static_cast<QWidget*>(title), static_cast<QWidget*>(hint), static_cast<QWidget*>(search_)}) {
        widget->setFixedWidth(620);
        stack->addWidget(widget, 0, Qt::AlignHCenter);
    }
    stack->addStretch(6);
    connect(search_, &SearchBox::queryChanged, this, &JobSheet::vehicleQueried);
    connect(search_, &SearchBox::chosen, this, &JobSheet::vehicleChosen);
    return page;
}

void JobSheet::makeActions() {
    summary_ = new QLabel(form_);
    summary_->setObjectName(QStringLiteral("saveSummary"));
    summary_->setWordWrap(true);
    summary_->setAlignment(Qt::AlignRight | Qt::AlignVCenter);
    theme::setText(summary_, TextRole::Small);
    voidButton_ = new QPushButton(tr("Void the job"), form_);
    theme::setRole(voidButton_, ButtonRole::Quiet);
    saveButton_ = new QPushButton(form_);
    saveButton_->setObjectName(QStringLiteral("save"));
    theme::setRole(saveButton_, ButtonRole::Primary);
    theme::setLarge(saveButton_);
    saveButton_->setMinimumWidth(168);
    saveButton_->setToolTip(tr("Ctrl+S"));
    form_->actions()->addWidget(summary_, 1);
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
    auto* cancel = new QPushButton(tr("Keep it"), voidRow_);
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
    bar_->setCard(form_->card());
}

void JobSheet::askForVehicle(const JobCard& blank) {
    form_->setCard(blank);
    past_ = {};
    pages_->setCurrentIndex(0);
    search_->clear();
    search_->setFocus();
}

bool JobSheet::isAskingForVehicle() const {
    return pages_->currentIndex() == 0;
}

void JobSheet::setVehicleResults(const QString& query, const QList<SearchResult>& results) {
    search_->setResults(query, results);
}

void JobSheet::open(const JobCard& stored, const JobCard& shown, const core::VehicleHistory& past,
                    const std::vector<core::Life>& lives) {
    past_ = past;
    asked_ = false;
    for (const auto* id : {"conflict", "in-work", "draft", "problem"})
        notices_->remove(QLatin1String(id));
    askToVoid(false);
    form_->setPast(past);
    form_->setCard(stored, shown);
    form_->setPast(past);
    form_->setVehicleShown(shown.vehicle.revision == 0);
    bar_->setCard(shown);
    bar_->setPast(past, lives);
    setSaving(false);
    pages_->setCurrentIndex(1);
    form_->focusFirst();
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
        summary_->clear();
}

void JobSheet::askToVoid(bool ask) {
    voidRow_->setVisible(ask);
    voidReason_->clear();
    if (ask)
        voidReason_->setFocus();
}

QString JobSheet::summaryOf(const core::Findings& findings) const {
    const auto gravest = std::max_element(
        findings.begin(), findings.end(),
        [](const core::Finding& a, const core::Finding& b) { return a.severity < b.severity; });
    const auto others = findings.size() - 1;
    const QString first = toText(gravest->message);
    return others == 0   ? first
           : others == 1 ? tr("%1 And 1 more.").arg(first)
                         : tr("%1 And %2 more.").arg(first).arg(others);
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
        summary_->setText(tr("Not saved yet. %1").arg(summaryOf(grave)));
        form_->focusField(toText(grave.front().field));
        return;
    }
    if (!grave.empty() && !asked_) {
        asked_ = true;
        updateActions();
        summary_->setText(tr("Please check. %1").arg(summaryOf(grave)));
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
        else
            emit closeWanted();
        return;
    }
    QWidget::keyPressEvent(event);
}

} // namespace milehold::ui
