// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/shown_list.h"

#include "storage/exchange/cells.h"
#include "storage/exchange/exchange_store.h"
#include "storage/shop.h"
#include "ui/widgets/record_table.h"
#include "ui/widgets/text.h"

#include <QHeaderView>
#include <QLocale>

namespace milehold::app {

ShownList readList(const ui::RecordTable& table) {
    ShownList list;
    const auto* model = table.model();
    std::vector<int> places;
    for (int visual = 0; visual < model->columnCount(); ++visual) {
        const int column = table.horizontalHeader()->logicalIndex(visual);
        const QString name = model->headerData(column, Qt::Horizontal).toString();
        if (table.isColumnHidden(column) || name.isEmpty())
            continue;
        places.push_back(column);
        list.columns.push_back({ui::toUtf8(name), storage::CellKind::Text});
    }
    const QLocale locale;
    std::vector<std::vector<QString>> texts;
    std::vector<bool> isNumber(places.size(), model->rowCount() > 0);
    for (int row = 0; row < model->rowCount(); ++row) {
        auto& cells = texts.emplace_back();
        for (std::size_t i = 0; i < places.size(); ++i) {
            cells.push_back(model->index(row, places[i]).data().toString());
            bool ok = false;
            locale.toDouble(cells.back(), &ok);
            isNumber[i] = isNumber[i] && (ok || cells.back().isEmpty());
        }
    }
    for (std::size_t i = 0; i < places.size(); ++i)
        if (isNumber[i])
            list.columns[i].kind = storage::CellKind::Number;
    for (const auto& cells : texts) {
        auto& row = list.rows.emplace_back();
        for (std::size_t i = 0; i < cells.size(); ++i) {
            if (isNumber[i] && !cells[i].isEmpty())
                row.push_back(QString::number(locale.toDouble(cells[i]), 'g', 15).toStdString());
            else
                row.push_back(storage::guarded(ui::toUtf8(cells[i])));
        }
    }
    return list;
}

core::Result<std::size_t> writeList(storage::Shop& shop, const ShownList& list, storage::TableSink& sink) {
    auto written = sink.header(list.columns);
    for (const auto& row : list.rows) {
        if (written)
            written = sink.row(row);
    }
    if (written)
        written = sink.finish();
    if (!written)
        return core::failureOf(written);
    if (!shop.readOnly()) {
        if (auto noted = shop.exchange().noteExport("list", list.rows.size(), false); !noted)
            return core::failureOf(noted);
    }
    return list.rows.size();
}

} // namespace milehold::app
