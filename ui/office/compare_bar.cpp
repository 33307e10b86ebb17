// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/office/compare_bar.h"

#include "ui/office/figure_jobs.h"
#include "ui/office/review_words.h"
#include "ui/theme/theme.h"
#include "ui/words/labelled.h"

#include <QComboBox>
#include <QHBoxLayout>
#include <QLabel>
#include <QVBoxLayout>

#include <algorithm>
#include <utility>

namespace milehold::ui {

CompareBar::CompareBar(QWidget* parent) : QWidget(parent) {
    auto* name = new QLabel(tr("&Compare"), this);
    theme::setText(name, TextRole::Small, true);
    first_ = modestCombo(QStringLiteral("compareFirst"), 10, this);
    first_->setAccessibleName(tr("Compare this group"));
    name->setBuddy(first_);
    auto* with = new QLabel(tr("with"), this);
    theme::setText(with, TextRole::Small, true);
    second_ = modestCombo(QStringLiteral("compareSecond"), 10, this);
    second_->setAccessibleName(tr("with this group"));
    words_ = wrappingLabel(this);
    words_->setObjectName(QStringLiteral("comparison"));
    words_->setMinimumHeight(3 * words_->fontMetrics().lineSpacing());
    words_->setAlignment(Qt::AlignTop | Qt::AlignLeft);

    auto* fields = new QHBoxLayout;
    fields->setSpacing(kGrid);
    fields->addWidget(name);
    fields->addWidget(first_, 1);
    fields->addWidget(with);
    fields->addWidget(second_, 1);
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(0, 0, 0, 0);
    column->setSpacing(kGrid);
    column->addLayout(fields);
    column->addWidget(words_);

    connect(first_, &QComboBox::currentIndexChanged, this, &CompareBar::edited);
    connect(second_, &QComboBox::currentIndexChanged, this, &CompareBar::edited);
}

void CompareBar::setView(const OfficeView& view) {
    filling_ = true;
    std::vector<std::string> names;
    QStringList shown;
    for (const OfficeGroup& group : view.groups) {
        if (group.curve.size() == 0)
            continue;
        names.push_back(group.name);
        shown.append(groupName(group));
    }
    if (names != names_) { // filling them lays the whole page out anew
        names_ = std::move(names);
        for (QComboBox* fields : {first_, second_}) {
            fields->clear();
            fields->addItems(shown);
        }
    }
    const auto place = [this](const std::string& name) {
        const auto found = std::find(names_.begin(), names_.end(), name);
        return static_cast<int>(found - names_.begin());
    };
    if (view.comparison) {
        first_->setCurrentIndex(place(view.comparison->first));
        second_->setCurrentIndex(place(view.comparison->second));
    }
    words_->setText(view.comparison     ? comparisonWords(view)
                    : names_.size() < 2 ? tr("Two groups are needed to compare.")
                                        : tr("Choose two different groups."));
    first_->setEnabled(names_.size() >= 2);
    second_->setEnabled(names_.size() >= 2);
    filling_ = false;
}

void CompareBar::edited() {
    if (filling_)
        return;
    const int first = first_->currentIndex();
    const int second = second_->currentIndex();
    if (first < 0 || second < 0)
        return;
    if (first == second) {
        words_->setText(tr("Choose two different groups."));
        return;
    }
    emit comparedChanged({names_[static_cast<std::size_t>(first)], names_[static_cast<std::size_t>(second)]});
}

} // namespace milehold::ui
