// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/counter/quote_page_dialog.h"

#include "ui/counter/page_preview.h"
#include "ui/counter/vehicle_words.h"
#include "ui/paper/paper_device.h"
#include "ui/theme/icons.h"
#include "ui/theme/theme.h"
#include "ui/widgets/segmented.h"

#include <QHBoxLayout>
#include <QLabel>
#include <QLocale>
#include <QPrintDialog>
#include <QPrinter>
#include <QPushButton>
#include <QRegularExpression>
#include <QSaveFile>
#include <QVBoxLayout>

namespace milehold::ui {

namespace {

constexpr QPageSize::PageSizeId kPapers[] = {QPageSize::A4, QPageSize::Letter};

/// Where people use inches, the sheet is Letter.
QPageSize::PageSizeId usualPaper() {
    return QLocale().measurementSystem() == QLocale::ImperialUSSystem ? QPageSize::Letter : QPageSize::A4;
}

} // namespace

QuotePageDialog::QuotePageDialog(QuotePageContent content, QWidget* parent)
    : QDialog(parent), content_(std::move(content)) {
    setWindowTitle(tr("Page for the customer"));
    setObjectName(QStringLiteral("quotePageDialog"));
    auto* paperName = new QLabel(tr("P&aper"), this);
    theme::setText(paperName, TextRole::Small, true);
    paper_ = new Segmented({tr("A4"), tr("Letter")}, this);
    paperName->setBuddy(paper_);
    pdf_ = new QPushButton(tr("&Save as PDF \u2026"), this);
    pdf_->setObjectName(QStringLiteral("savePdf"));
    pdf_->setIcon(icon(QStringLiteral("save")));
    print_ = new QPushButton(tr("&Print \u2026"), this);
    print_->setObjectName(QStringLiteral("print"));
    print_->setIcon(icon(QStringLiteral("print")));
    theme::setRole(print_, ButtonRole::Primary);
    auto* close = new QPushButton(tr("&Close"), this);
    preview_ = new PagePreview(this);

    auto* bar = new QHBoxLayout;
    bar->setContentsMargins(kMargin, kGap, kMargin, kGap);
    bar->setSpacing(kGrid);
    bar->addWidget(paperName);
    bar->addWidget(paper_);
    bar->addStretch();
    bar->addWidget(close);
    bar->addWidget(pdf_);
    bar->addWidget(print_);
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(0, 0, 0, 0);
    column->setSpacing(0);
    column->addLayout(bar);
    column->addWidget(preview_, 1);

    connect(paper_, &Segmented::chosen, this, [this](int chosen) { setPaper(kPapers[chosen]); });
    connect(close, &QPushButton::clicked, this, &QDialog::reject);
    connect(pdf_, &QPushButton::clicked, this, &QuotePageDialog::pdfWanted);
    connect(print_, &QPushButton::clicked, this, &QuotePageDialog::askForPrinter);
    print_->setDefault(true);
    setPaper(usualPaper());
    resize(720, 760);
}

QuotePageDialog::~QuotePageDialog() = default;

void QuotePageDialog::setPaper(QPageSize::PageSizeId paper) {
    paper_->setCurrent(paper == QPageSize::A4 ? 0 : 1);
    auto page = std::make_unique<QuotePage>(content_, paper);
    preview_->setSheets(&page->flow());
    page_ = std::move(page);
}

QString QuotePageDialog::suggestedName() const {
    QString name = content_.vehicle.vehicle ? vehicleTitle(*content_.vehicle.vehicle) : tr("repair life");
    name.replace(QRegularExpression(QStringLiteral("[\\\\/:*?\"<>|\\x00-\\x1f]")), QStringLiteral("-"));
    return name + QStringLiteral(".pdf");
}

void QuotePageDialog::savePdf(const QString& path) {
    QSaveFile file(path);
    if (!file.open(QIODevice::WriteOnly) || !writePdf(page_->flow(), page_->paper(), file, windowTitle()) ||
        !file.commit()) {
        emit failed(tr("The PDF could not be written: %1").arg(file.errorString()));
        return;
    }
    emit given();
    emit said(tr("Saved: %1").arg(path));
}

void QuotePageDialog::askForPrinter() {
    auto printer = std::make_shared<QPrinter>(QPrinter::HighResolution);
    printer->setDocName(windowTitle());
    auto* dialog = new QPrintDialog(printer.get(), this);
    dialog->setAttribute(Qt::WA_DeleteOnClose);
    connect(dialog, &QDialog::accepted, this, [this, printer] {
        if (printSheets(page_->flow(), page_->paper(), *printer)) {
            emit given();
            emit said(tr("Sent to the printer"));
        } else {
            emit failed(tr("The printer does not take the page."));
        }
    });
    connect(dialog, &QObject::destroyed, this, [printer] {});
    dialog->open();
}

} // namespace milehold::ui
