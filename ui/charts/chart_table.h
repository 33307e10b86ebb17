// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QList>
#include <QString>
#include <QStringList>

namespace milehold::ui {

/// The figures of a chart as text: for readers that cannot see it, for the clipboard, for printing.
struct ChartTable {
    QStringList header;
    QList<QStringList> rows;

    /// Tab-separated lines, the header first.
    QString toText() const;
};

} // namespace milehold::ui
