// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/counter/answer_card.h"

#include "ui/theme/icons.h"
#include "ui/theme/theme.h"
#include "ui/widgets/text.h"
#include "ui/words/amounts.h"
#include "ui/words/chance.h"
#include "ui/words/elided_label.h"
#include "ui/words/labelled.h"
#include "ui/words/with_sign.h"

#include <QHBoxLayout>
#include <QLabel>
#include <QPushButton>
#include <QVBoxLayout>

namespace milehold::ui {

namespace {
constexpr int kFigureWidth = 168;
} // namespace

AnswerCard::AnswerCard(QWidget* parent) : Card(QString(), parent) {
    setEdge(Card::Edge::Chosen);
    name_ = new ElidedLabel(this);
    theme::setText(name_, TextRole::Lead);
    figure_ = new BigNumber(QString(), this);
    figure_->setFixedWidth(kFigureWidth);
    sentence_ = wrappingLabel(this);
    sentence_->setObjectName(QStringLiteral("sentence"));
    sentence_->setAlignment(Qt::AlignTop | Qt::AlignLeft);
    details_ = wrappingLabel(this);
    details_->setObjectName(QStringLiteral("sentenceDetails"));
    details_->setAlignment(Qt::AlignTop | Qt::AlignLeft);
    theme::setText(details_, TextRole::Small, true);
    price_ = new QLabel(this);
    theme::setText(price_, TextRole::Lead);
    auto* copy = makeButton(tr("&Copy"), QStringLiteral("copySentence"), QStringLiteral("copy"),
                            tr("Copies the sentence, and keeps what was quoted"));
    keep_ = makeButton(tr("&Keep"), QStringLiteral("keepQuote"), QStringLiteral("note"),
                       tr("Keeps what was quoted with this vehicle, to be compared with what happens"));
    why_ = makeButton(tr("&Why this number"), QStringLiteral("why"), QStringLiteral("evidence"),
                      tr("Opens the jobs behind it"));
    auto* page =
        makeButton(tr("&Page for the customer"), QStringLiteral("page"), QStringLiteral("print"), {});
    theme::setRole(page, ButtonRole::Primary);

    auto* head = new QHBoxLayout;
    head->setSpacing(kHalf);
    head->addWidget(name_, 1);
    head->addWidget(price_);
    for (QPushButton* button : {copy, keep_, why_, page})
        head->addWidget(button);
    auto* said = new QHBoxLayout;
    said->setSpacing(kGap);
    said->addWidget(figure_, 0, Qt::AlignTop);
    auto* words = new QVBoxLayout;
    words->setSpacing(kHalf);
    words->addWidget(sentence_);
    words->addWidget(details_);
    words->addStretch();
    said->addLayout(words, 1);
    body()->setSpacing(kHalf);
    body()->addLayout(head);
    body()->addLayout(said);

    connect(copy, &QPushButton::clicked, this, &AnswerCard::copyWanted);
    connect(keep_, &QPushButton::clicked, this, &AnswerCard::keepWanted);
    connect(why_, &QPushButton::clicked, this, &AnswerCard::whyWanted);
    connect(page, &QPushButton::clicked, this, &AnswerCard::pageWanted);
}

QPushButton* AnswerCard::makeButton(const QString& text, const QString& name, const QString& iconName,
                                    const QString& tip) {
    auto* button = new QPushButton(text, this);
    button->setObjectName(name);
    button->setIcon(icon(iconName));
    button->setToolTip(tip);
    theme::setRole(button, ButtonRole::Quiet);
    return button;
}

void AnswerCard::setPath(const core::PathQuote& path, core::DistanceUnit unit, const std::string& currency) {
    const QString price = path.price.minor > 0 ? priceText(path.price, currency) : tr("no price yet");
    name_->setText(toText(path.name));
    price_->setText(price);
    whole_ = withLocalDates(toText(path.sentence));
    sentence_->setText(withSign(withLocalDates(toText(path.spoken))));
    details_->setText(withSign(withLocalDates(toText(path.details))));
    details_->setVisible(!path.details.empty());
    why_->setEnabled(!path.jobs.empty());
    const ChanceWords words = chanceAt(path.horizon, path);
    figure_->setLabel(tr("Still quiet at %1").arg(distanceText(static_cast<double>(path.horizon.at), unit)));
    figure_->setValue(words.figure);
    figure_->setNote(words.under);
}

QString AnswerCard::sentence() const {
    return whole_;
}

void AnswerCard::setCanKeep(bool can) {
    keep_->setEnabled(can);
}

} // namespace milehold::ui
