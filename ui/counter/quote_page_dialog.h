// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/counter/quote_page.h"

#include <QDialog>

#include <memory>

class QPushButton;

namespace milehold::ui {

class PagePreview;
class Segmented;

/// The page for the customer as it will lie on paper, to be printed or kept as a PDF.
class QuotePageDialog : public QDialog {
    Q_OBJECT
public:
    explicit QuotePageDialog(QuotePageContent content, QWidget* parent = nullptr);
    ~QuotePageDialog() override;

    const QuotePage& page() const { return *page_; }
    void setPaper(QPageSize::PageSizeId paper);
    /// Writes the PDF; the outcome is told by said() or failed().
    void savePdf(const QString& path);
    /// A name for the PDF, after the vehicle.
    QString suggestedName() const;

signals:
    void pdfWanted(); ///< asks where to save, then savePdf()
    void given();     ///< it was printed or saved: the customer has it
    void said(const QString& what);
    void failed(const QString& sentence);

private:
    void askForPrinter();

    QuotePageContent content_;
    std::unique_ptr<QuotePage> page_;
    PagePreview* preview_ = nullptr;
    Segmented* paper_ = nullptr;
    QPushButton* pdf_ = nullptr;
    QPushButton* print_ = nullptr;
};

} // namespace milehold::ui
