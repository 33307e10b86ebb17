// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/counter/call_sheet.h"

#include <QDialog>

#include <memory>

class QPushButton;

namespace milehold::ui {

class PagePreview;
class Segmented;

/// Shows the call sheet as it will be printed; prints it or keeps it as a PDF.
class CallSheetDialog : public QDialog {
    Q_OBJECT
public:
    explicit CallSheetDialog(CallSheetContent content, QWidget* parent = nullptr);
    ~CallSheetDialog() override;

    void setPaper(QPageSize::PageSizeId paper);
    QString suggestedName() const;
    void savePdf(const QString& path);

signals:
    void pdfWanted();
    void said(const QString& what);

private:
    void askForPrinter();

    CallSheetContent content_;
    std::unique_ptr<CallSheet> sheet_;
    PagePreview* preview_;
    Segmented* paper_;
};

} // namespace milehold::ui
