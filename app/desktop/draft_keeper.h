// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "app/desktop/database.h"

#include <QElapsedTimer>
#include <QObject>
#include <QTimer>

#include <functional>
#include <string>

namespace milehold::app {

/// Keeps what is being typed on disk: at once after a rest, and at the latest half a second after a
/// keystroke.
class DraftKeeper : public QObject {
    Q_OBJECT
public:
    explicit DraftKeeper(Database& database, QObject* parent = nullptr);

    /// From now on `text` is kept under `form` whenever touch() is called. Blank text: there is nothing to
    /// keep, and what was kept is dropped.
    void watch(const std::string& form, std::function<std::string()> text);
    /// Something was typed.
    void touch();
    /// Keeps at once what touch() announced.
    void flush();
    /// Ends watching; what is kept stays.
    void leave();
    /// Ends watching, and forgets what was kept.
    void drop();
    void dropForm(const std::string& form);

    const std::string& form() const { return form_; }

signals:
    void failed(const milehold::core::Error& error);

private:
    void keep();

    Database& database_;
    QTimer timer_;
    QElapsedTimer since_;
    std::string form_;
    std::string last_;
    std::function<std::string()> text_;
};

} // namespace milehold::app
