// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/bay/concern_section.h"

#include "ui/bay/pickers.h"
#include "ui/widgets/form_grid.h"

#include <QPlainTextEdit>
#include <QVBoxLayout>

namespace milehold::ui {
namespace {
constexpr int kTextHeight = 76;
}

ConcernSection::ConcernSection(QWidget* parent)
    : JobSection(parent), grid_(new FormGrid(1, this)), group_(makeEnumBox<core::ConcernGroup>(this)),
      concern_(new QPlainTextEdit), cause_(new QPlainTextEdit), correction_(new QPlainTextEdit) {
    auto* stack = new QVBoxLayout(this);
    stack->setContentsMargins(0, 0, 0, 0);
    stack->addWidget(grid_);
    stack->addStretch(1);
    setGrid(grid_);

    grid_->addSection(tr("Concern, cause, correction"));
    grid_->addField(tr("What it is about"), group_, QStringLiteral("concernGroup"));
    grid_->addField(tr("&Concern, in the customer's words"), concern_, QStringLiteral("concern"));
    grid_->addField(tr("Cause"), cause_, QStringLiteral("cause"));
    grid_->addField(tr("Correction"), correction_, QStringLiteral("correction"));
    for (auto* field : {concern_, cause_, correction_}) {
        field->setFixedHeight(kTextHeight);
        connect(field, &QPlainTextEdit::textChanged, this, &JobSection::edited);
    }
    connect(group_, &QComboBox::activated, this, &JobSection::edited);
}

void ConcernSection::showJob(const core::Job& job) {
    const QSignalBlocker blockers[] = {QSignalBlocker(concern_), QSignalBlocker(cause_),
                                       QSignalBlocker(correction_)};
    showIn(group_, job.concernGroup);
    concern_->setPlainText(toText(job.concern));
    cause_->setPlainText(toText(job.cause));
    correction_->setPlainText(toText(job.correction));
}

void ConcernSection::readInto(core::Job& job) const {
    job.concernGroup = valueIn<core::ConcernGroup>(group_);
    job.concern = toUtf8(concern_->toPlainText());
    job.cause = toUtf8(cause_->toPlainText());
    job.correction = toUtf8(correction_->toPlainText());
}

} // namespace milehold::ui
