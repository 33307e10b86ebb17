// SPDX-License-Identifier: GPL-3.0-or-later
// The file that a shop can send to whoever looks for a fault, with nobody named in it.
#include "app/desktop/error_sentence.h"
#include "app/desktop/file_dialogs.h"
#include "app/desktop/records_desk.h"
#include "storage/exchange/support_file.h"
#include "storage/shop.h"
#include "ui/shell/main_window.h"

namespace milehold::app {

void RecordsDesk::askForSupportFile() {
    const QString path = askWhereToSave(&window_, tr("Keep the file for support"),
                                        tr("milehold support.json"), tr("JSON, a line each (*.json)"));
    if (!path.isEmpty())
        writeSupportFile(path);
}

void RecordsDesk::writeSupportFile(const QString& path) {
    database_.ask(
        this,
        [path](storage::Shop& shop) {
            const std::filesystem::path file(path.toStdU16String());
            // The dialog has asked whether what is there may go.
            std::error_code ignored;
            if (std::filesystem::is_regular_file(file, ignored))
                std::filesystem::remove(file, ignored);
            return storage::exportSupport(shop, file);
        },
        [this, path](core::Result<std::size_t> rows) {
            if (!rows)
                return failed(rows.error());
            emit said(tr("Saved, with nobody named in it: %1").arg(path));
        });
}

} // namespace milehold::app
