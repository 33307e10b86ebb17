// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/charts/chart_table.h"

namespace milehold::ui {

QString ChartTable::toText() const {
    QStringList lines{header.join(u'\t')};
    for (const QStringList& row : rows)
        lines << row.join(u'\t');
    return lines.join(u'\n');
}

} // namespace milehold::ui
