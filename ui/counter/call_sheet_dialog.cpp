// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/counter/call_sheet_dialog.h"

#include "ui/counter/page_preview.h"
#include "ui/paper/paper_device.h"
#include "ui/theme/icons.h"
#include "ui/theme/theme.h"
#include "ui/widgets/segmented.h"
#include "ui/widgets/text.h"

#include <QHBoxLayout>
#include <QLabel>
#include <QLocale>
#include <QPrintDialog>
#include <QPrinter>
#include <QPushButton>
#include <QSaveFile>
#include <QVBoxLayout>

namespace milehold::ui {

CallSheetDialog::CallSheetDialog(CallSheetContent content, QWidget* parent)
    : QDialog(parent), content_(std::move(content)), preview_(new PagePreview(this)),
      paper_(new Segmented({tr("A4"), tr("Letter")}, this)) {
    setWindowTitle(tr("Call sheet"));
    setObjectName(QStringLiteral("callSheetDialog"));
    auto* paperName = new QLabel(tr("P&aper"), this);
    theme::setText(paperName, TextRole::Small, true);
    paperName->setBuddy(paper_);
    auto* close = new QPushButton(tr("&Close"), this);
    auto* pdf = new QPushButton(tr("&Save as PDF \u2026"), this);
    pdf->setObjectName(QStringLiteral("savePdf"));
    pdf->setIcon(icon(QStringLiteral("save")));
    auto* print = new QPushButton(tr("&Print \u2026"), this);
    print->setIcon(icon(QStringLiteral("print")));
    theme::setRole(print, ButtonRole::Primary);
    auto* bar = new QHBoxLayout;
    bar->setContentsMargins(kMargin, kGap, kMargin, kGap);
    bar->setSpacing(kGrid);
    bar->addWidget(paperName);
    bar->addWidget(paper_);
    bar->addStretch();
    for (QPushButton* button : {close, pdf, print})
        bar->addWidget(button);
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(0, 0, 0, 0);
    column->setSpacing(0);
    column->addLayout(bar);
    column->addWidget(preview_, 1);
    connect(paper_, &Segmented::chosen, this,
            [this](int chosen) { setPaper(chosen == 0 ? QPageSize::A4 : QPageSize::Letter); });
    connect(close, &QPushButton::clicked, this, &QDialog::reject);
    connect(pdf, &QPushButton::clicked, this, &CallSheetDialog::pdfWanted);
    connect(print, &QPushButton::clicked, this, &CallSheetDialog::askForPrinter);
    print->setDefault(true);
    // Where people use inches, the sheet is Letter.
    setPaper(QLocale().measurementSystem() == QLocale::ImperialUSSystem ? QPageSize::Letter : QPageSize::A4);
    resize(720, 760);
}

CallSheetDialog::~CallSheetDialog() = default;

void CallSheetDialog::setPaper(QPageSize::PageSizeId paper) {
    paper_->setCurrent(paper == QPageSize::A4 ? 0 : 1);
    auto sheet = std::make_unique<CallSheet>(content_, paper);
    preview_->setSheets(&sheet->flow());
    sheet_ = std::move(sheet);
}

QString CallSheetDialog::suggestedName() const {
    return tr("calls %1.pdf").arg(toText(core::toIso(content_.printedOn)));
}

void CallSheetDialog::savePdf(const QString& path) {
    QSaveFile file(path);
    if (!file.open(QIODevice::WriteOnly) || !writePdf(sheet_->flow(), sheet_->paper(), file, windowTitle()) ||
        !file.commit()) {
        emit said(tr("The PDF could not be written: %1").arg(file.errorString()));
        return;
    }
    emit said(tr("Saved: %1").arg(path));
}

void CallSheetDialog::askForPrinter() {
    auto printer = std::make_shared<QPrinter>(QPrinter::HighResolution);
    printer->setDocName(windowTitle());
    auto* dialog = new QPrintDialog(printer.get(), this);
    dialog->setAttribute(Qt::WA_DeleteOnClose);
    connect(dialog, &QDialog::accepted, this, [this, printer] {
        emit said(printSheets(sheet_->flow(), sheet_->paper(), *printer)
                      ? tr("Sent to the printer")
                      : tr("The printer does not take the page."));
    });
    connect(dialog, &QObject::destroyed, this, [printer] {});
    dialog->open();
}

} // namespace milehold::ui
