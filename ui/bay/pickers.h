// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/shop/people.h"
#include "ui/bay/job_section.h"
#include "ui/widgets/text.h"
#include "ui/words/labels.h"

#include <QComboBox>
#include <QVariant>

#include <optional>
#include <vector>

namespace milehold::ui {

/// A drop-down over all values of an enum, in the order in which core lists them.
template <class E> QComboBox* makeEnumBox(QWidget* parent) {
    auto* box = new QComboBox(parent);
    for (const auto& label : core::labelsOf<E>())
        box->addItem(word(label.value), static_cast<int>(label.value));
    ignoreWheel(box);
    return box;
}
template <class E> void showIn(QComboBox* box, E value) {
    box->setCurrentIndex(box->findData(static_cast<int>(value)));
}
template <class E> E valueIn(const QComboBox* box) {
    return static_cast<E>(box->currentData().toInt());
}

/// A drop-down over records by their key, with a first row for "none".
template <class IdType> class RecordBox : public QComboBox {
public:
    explicit RecordBox(const QString& none, QWidget* parent = nullptr) : QComboBox(parent), none_(none) {
        ignoreWheel(this);
        connect(this, &QComboBox::currentIndexChanged, this, [this] { id_ = id(); });
        fill();
    }

    struct Choice {
        IdType id;
        QString text;
        bool offered = true; ///< false: shown only where it is already chosen
    };
    /// What is chosen stays, also when it is not offered or not known.
    void setChoices(std::vector<Choice> choices) {
        choices_ = std::move(choices);
        fill();
    }
    void setNone(const QString& none) {
        none_ = none;
        setItemText(0, none);
    }
    void setId(std::optional<IdType> id) {
        id_ = id;
        fill();
    }
    std::optional<IdType> id() const {
        const int row = currentIndex() - 1;
        return row < 0 || row >= static_cast<int>(shown_.size())
                   ? std::nullopt
                   : std::optional(shown_[static_cast<std::size_t>(row)]);
    }

private:
    void fill() {
        const QSignalBlocker blocked(this);
        clear();
        shown_.clear();
        addItem(none_);
        int current = 0;
        for (const auto& choice : choices_) {
            const bool chosen = id_ && *id_ == choice.id;
            if (!choice.offered && !chosen)
                continue;
            addItem(choice.text);
            shown_.push_back(choice.id);
            if (chosen)
                current = count() - 1;
        }
        if (id_ && current == 0) {
            addItem(QComboBox::tr("(not on the list any more)"));
            shown_.push_back(*id_);
            current = count() - 1;
        }
        setCurrentIndex(current);
    }

    QString none_;
    std::vector<Choice> choices_;
    std::vector<IdType> shown_;
    std::optional<IdType> id_;
};

/// Everybody by name; offered are those who are active and fill the role.
inline std::vector<RecordBox<core::StaffId>::Choice> staffChoices(const std::vector<core::Staff>& staff,
                                                                  bool core::Staff::*role) {
    std::vector<RecordBox<core::StaffId>::Choice> choices;
    for (const auto& person : staff)
        choices.push_back({person.id, toText(person.name), person.active && person.*role});
    return choices;
}

} // namespace milehold::ui
