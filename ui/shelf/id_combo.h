// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/shop/id.h"

#include <QComboBox>
#include <QList>

#include <optional>
#include <string>

namespace milehold::ui {

/// A choice among records by their keys. What is chosen stays chosen when the list is filled anew, even when
/// it is no longer in it, and the wheel changes nothing unless the list was opened.
class IdCombo : public QComboBox {
    Q_OBJECT
public:
    struct Item {
        core::Uuid id;
        QString text;
        QString detail = {}; ///< into the tooltip of the entry
    };

    /// `none`: what the choice of nothing is called; a null text: something must be chosen.
    explicit IdCombo(const QString& none = {}, QWidget* parent = nullptr);

    void setItems(const QList<Item>& items);
    void setChosen(const std::optional<core::Uuid>& id);
    std::optional<core::Uuid> chosen() const;

    template <class IdType> void setId(const std::optional<IdType>& id) {
        setChosen(id ? std::optional(id->uuid) : std::nullopt);
    }
    template <class IdType> std::optional<IdType> id() const {
        const auto uuid = chosen();
        return uuid ? std::optional(IdType{*uuid}) : std::nullopt;
    }

signals:
    void edited(); ///< by the user

protected:
    void wheelEvent(QWheelEvent* event) override;

private:
    void fill(const std::optional<core::Uuid>& keep);

    QString none_;
    QList<Item> items_;
};

} // namespace milehold::ui
