// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QWidget>

class QVBoxLayout;

namespace milehold::ui {

/// Messages over the room that stay until somebody deals with them. Amber: it needs you; red: something is
/// wrong; quiet: only tells.
class MessageBar : public QWidget {
    Q_OBJECT
public:
    enum class Kind { Tells, NeedsYou, Wrong };

    struct Message {
        QString id; ///< one message a kind of matter: the same id replaces it
        Kind kind = Kind::NeedsYou;
        QString text;
        QStringList actions; ///< what its buttons say: "Restore a backup"
        bool dismissable = true;
    };

    explicit MessageBar(QWidget* parent = nullptr);
    void show(const Message& message);
    void remove(const QString& id);
    int count() const;

signals:
    void actionChosen(const QString& id, int action);
    void dismissed(const QString& id);

private:
    QVBoxLayout* rows_;
};

} // namespace milehold::ui
