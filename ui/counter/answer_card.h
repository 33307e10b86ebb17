// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/quote/quote.h"
#include "ui/widgets/card.h"

class QLabel;
class QPushButton;

namespace milehold::ui {

class ElidedLabel;

/// The answer for the chosen path: its figure, its sentence, and what can be done with them.
class AnswerCard : public Card {
    Q_OBJECT
public:
    explicit AnswerCard(QWidget* parent = nullptr);

    void setPath(const core::PathQuote& path, core::DistanceUnit unit, const std::string& currency);
    /// The whole sentence, as it is copied and kept.
    QString sentence() const;
    /// A vehicle of the records is there to keep the quote with.
    void setCanKeep(bool can);

signals:
    void copyWanted();
    void keepWanted(); ///< what was quoted is to be kept, to be compared with what happens
    void whyWanted();
    void pageWanted();

private:
    QPushButton* makeButton(const QString& text, const QString& name, const QString& iconName,
                            const QString& tip);

    QString whole_;
    ElidedLabel* name_ = nullptr;
    QLabel* price_ = nullptr;
    BigNumber* figure_ = nullptr;
    QLabel* sentence_ = nullptr; ///< what is said to the customer
    QLabel* details_ = nullptr;  ///< the rest of it
    QPushButton* keep_ = nullptr;
    QPushButton* why_ = nullptr;
};

} // namespace milehold::ui
