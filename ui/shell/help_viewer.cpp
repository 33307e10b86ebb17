// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/shell/help_viewer.h"

#include "ui/theme/theme.h"

#include <QDir>
#include <QFile>
#include <QHBoxLayout>
#include <QListWidget>
#include <QTextBlock>
#include <QTextBrowser>
#include <QTextDocument>

// Resources of a static library are dropped by the linker unless they are asked for, from outside any
// namespace.
static void initManual() {
    Q_INIT_RESOURCE(milehold_manual);
}

namespace milehold::ui {

namespace {

const auto kFolder = QStringLiteral(":/milehold/manual");

/// `10-window.md` -> `window`.
QString nameOf(const QString& file) {
    const QString base = file.chopped(3);
    const qsizetype dash = base.indexOf(u'-');
    return dash > 0 && base.left(dash).toInt() > 0 ? base.mid(dash + 1) : base;
}

QStringList files() {
    initManual();
    return QDir(kFolder).entryList({QStringLiteral("*.md")}, QDir::Files, QDir::Name);
}

QString read(const QString& file) {
    QFile source(kFolder + u'/' + file);
    return source.open(QIODevice::ReadOnly) ? QString::fromUtf8(source.readAll()) : QString();
}

/// The first heading.
QString titleOf(const QString& markdown) {
    for (const QString& line : markdown.split(u'\n')) {
        if (line.startsWith(QLatin1String("# ")))
            return line.mid(2).trimmed();
    }
    return {};
}

} // namespace

HelpViewer::HelpViewer(QWidget* parent)
    : QDialog(parent), list_(new QListWidget(this)), text_(new QTextBrowser(this)) {
    setWindowTitle(tr("Help"));
    resize(920, 640);
    auto* row = new QHBoxLayout(this);
    row->setContentsMargins(0, 0, 0, 0);
    row->setSpacing(0);
    list_->setFixedWidth(240);
    list_->setFrameShape(QFrame::NoFrame);
    list_->setAccessibleName(tr("Pages"));
    text_->setFrameShape(QFrame::NoFrame);
    text_->setOpenExternalLinks(false);
    text_->setOpenLinks(false);
    text_->setAccessibleName(tr("Page"));
    text_->document()->setDocumentMargin(kMargin);
    row->addWidget(list_);
    row->addWidget(text_, 1);
    for (const QString& file : files()) {
        const QString title = titleOf(read(file));
        auto* item = new QListWidgetItem(title.isEmpty() ? nameOf(file) : title, list_);
        item->setData(Qt::UserRole, file);
    }
    connect(list_, &QListWidget::currentItemChanged, this, [this](QListWidgetItem* item) {
        if (item)
            load(item->data(Qt::UserRole).toString());
    });
    // A link between pages is the other page's file name.
    connect(text_, &QTextBrowser::anchorClicked, this,
            [this](const QUrl& link) { showPage(nameOf(link.fileName())); });
}

QStringList HelpViewer::pages() {
    QStringList names;
    for (const QString& file : files())
        names << nameOf(file);
    return names;
}

void HelpViewer::showPage(const QString& page) {
    for (int i = 0; i < list_->count(); ++i) {
        if (page.isEmpty() || nameOf(list_->item(i)->data(Qt::UserRole).toString()) == page) {
            list_->setCurrentRow(i);
            return;
        }
    }
    if (list_->count() > 0 && list_->currentRow() < 0)
        list_->setCurrentRow(0);
}

void HelpViewer::load(const QString& file) {
    text_->setMarkdown(read(file));
    // Room between the lines: what is read here is read standing.
    for (QTextBlock block = text_->document()->begin(); block.isValid(); block = block.next()) {
        QTextCursor cursor(block);
        QTextBlockFormat format = block.blockFormat();
        format.setLineHeight(135, QTextBlockFormat::ProportionalHeight);
        if (format.headingLevel() > 0)
            format.setTopMargin(format.headingLevel() == 1 ? 0 : kGap);
        format.setBottomMargin(kGrid);
        cursor.setBlockFormat(format);
    }
    text_->moveCursor(QTextCursor::Start);
}

} // namespace milehold::ui
