// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/records/forget_dialog.h"

#include "ui/theme/theme.h"

#include <QCheckBox>
#include <QHBoxLayout>
#include <QLabel>
#include <QPushButton>
#include <QVBoxLayout>

namespace milehold::ui {

namespace {

QLabel* paragraph(const QString& text, QWidget* parent, TextRole role = TextRole::Body) {
    auto* label = new QLabel(text, parent);
    label->setTextFormat(Qt::PlainText);
    label->setWordWrap(true);
    theme::setText(label, role);
    return label;
}

} // namespace

ForgetDialog::ForgetDialog(const Forgetting& scope, QWidget* parent) : QDialog(parent) {
    setWindowTitle(tr("Forget a customer"));
    setMinimumWidth(560);
    auto* stack = new QVBoxLayout(this);
    stack->setContentsMargins(kMargin, kMargin, kMargin, kMargin);
    stack->setSpacing(kGap);
    stack->addWidget(paragraph(tr("Forget %1").arg(scope.name), this, TextRole::Title));
    if (scope.jobsInWork > 0) {
        auto* warning = paragraph(
            tr("%n job(s) of this customer still in work.", nullptr, scope.jobsInWork) + QLatin1Char(' ') +
                tr("Afterwards nobody finds out here whose vehicle it is or whom to call: "
                   "better deliver first."),
            this, TextRole::Strong);
        warning->setObjectName(QStringLiteral("inWork"));
        stack->addWidget(warning);
    }
    stack->addWidget(paragraph(tr("What goes"), this, TextRole::Strong));
    stack->addWidget(paragraph(
        tr("Name, phones, e-mail and notes of the customer; VIN, plate and notes of %1; what was written in "
           "words "
           "about %2 and %3; %4; %5. It goes from the change log too, which still proves that nothing else "
           "was "
           "altered.")
            .arg(scope.vehicles == 1 ? tr("1 vehicle") : tr("%1 vehicles").arg(scope.vehicles),
                 scope.jobs == 1 ? tr("1 job") : tr("%1 jobs").arg(scope.jobs),
                 scope.followUps == 1 ? tr("1 call") : tr("%1 calls").arg(scope.followUps),
                 scope.attachments == 1 ? tr("1 photo or sound")
                                        : tr("%1 photos and sounds").arg(scope.attachments),
                 scope.drafts == 1 ? tr("1 unfinished form") : tr("%1 unfinished forms").arg(scope.drafts)),
        this));
    stack->addWidget(paragraph(tr("What stays"), this, TextRole::Strong));
    stack->addWidget(paragraph(tr("Maker, model, year and engine, dates, odometers, parts, money, and how "
                                  "long each repair held: the "
                                  "curves do not change. The customer is marked as not to be called."),
                               this));
    stack->addWidget(paragraph(scope.onServer ? tr("What the server keeps for a while") : tr("Backups"), this,
                               TextRole::Strong));
    auto* backups = paragraph(
        scope.onServer
            ? tr("The server's tables are written anew without the person. Its write-ahead log holds the old "
                 "rows until the server writes over it, and dumps and archives of it hold them until whoever "
                 "keeps the server removes them.")
            : tr("A backup is made first, and it holds the person, as the earlier ones do. The last of them "
                 "is "
                 "kept no longer than %1. Copies on other disks, and folders named replaced or damaged, are "
                 "yours to remove.")
                  .arg(scope.backupsUntil),
        this);
    backups->setObjectName(QStringLiteral("backups"));
    stack->addWidget(backups);
    auto* sure = new QCheckBox(tr("This cannot be taken back, and I want it"), this);
    sure->setObjectName(QStringLiteral("sure"));
    stack->addWidget(sure);
    auto* row = new QHBoxLayout;
    auto* forget = new QPushButton(tr("&Forget this customer"), this);
    forget->setObjectName(QStringLiteral("forget"));
    theme::setRole(forget, ButtonRole::Danger);
    forget->setEnabled(false);
    auto* keep = new QPushButton(tr("Keep everything"), this);
    keep->setDefault(true);
    row->addStretch(1);
    row->addWidget(forget);
    row->addWidget(keep);
    stack->addLayout(row);
    connect(sure, &QCheckBox::toggled, forget, &QPushButton::setEnabled);
    connect(forget, &QPushButton::clicked, this, &QDialog::accept);
    connect(keep, &QPushButton::clicked, this, &QDialog::reject);
    keep->setFocus();
}

} // namespace milehold::ui
