// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/start/start_page.h"

#include "ui/theme/icons.h"
#include "ui/theme/theme.h"
#include "ui/widgets/card.h"
#include "ui/widgets/form_grid.h"
#include "ui/widgets/segmented.h"
#include "ui/widgets/text.h"

#include <QDir>
#include <QFileInfo>
#include <QHBoxLayout>
#include <QLabel>
#include <QLineEdit>
#include <QListWidget>
#include <QLocale>
#include <QPushButton>
#include <QRegularExpression>
#include <QVBoxLayout>

namespace milehold::ui {

QString folderNameFor(const QString& shopName) {
    QString name = shopName.trimmed().toLower();
    name.replace(QRegularExpression(QStringLiteral("[^\\p{L}\\p{N}]+")), QStringLiteral("-"));
    while (name.startsWith(u'-'))
        name.remove(0, 1);
    while (name.endsWith(u'-'))
        name.chop(1);
    if (name.isEmpty())
        name = QStringLiteral("shop");
    return name.left(60) + QStringLiteral(".milehold");
}

StartPage::StartPage(QWidget* parent) : QWidget(parent) {
    setObjectName(QStringLiteral("startPage"));
    auto* title = new QLabel(tr("Milehold"));
    theme::setText(title, TextRole::Big);
    auto* line =
        new QLabel(tr("The record book of timing repairs: how many miles each way of repairing lasts."));
    theme::setText(line, TextRole::Lead, true);

    trouble_ = new QLabel;
    trouble_->setObjectName(QStringLiteral("trouble"));
    trouble_->setWordWrap(true);
    trouble_->setTextInteractionFlags(Qt::TextSelectableByMouse | Qt::TextSelectableByKeyboard);
    restore_ = new QPushButton(icon(QStringLiteral("backup")), tr("&Bring the newest good backup back"));
    restore_->setObjectName(QStringLiteral("restoreNewest"));
    connect(restore_, &QPushButton::clicked, this, &StartPage::restoreWanted);
    look_ = new QPushButton(icon(QStringLiteral("search")), tr("&Look at that backup, read only"));
    look_->setObjectName(QStringLiteral("lookAtNewest"));
    connect(look_, &QPushButton::clicked, this, &StartPage::lookWanted);
    salvage_ =
        new QPushButton(icon(QStringLiteral("wrench")), tr("&Save what is readable of the damaged file"));
    salvage_->setObjectName(QStringLiteral("salvage"));
    connect(salvage_, &QPushButton::clicked, this, &StartPage::salvageWanted);
    auto* remedies = new QHBoxLayout;
    remedies->setSpacing(kGrid);
    for (auto* one : {restore_, look_, salvage_})
        remedies->addWidget(one);
    remedies->addStretch(1);
    busy_ = new QLabel;
    theme::setText(busy_, TextRole::Body, true);

    auto* sides = new QHBoxLayout;
    sides->setSpacing(kMargin);
    sides->addWidget(makeOpenSide(), 1);
    sides->addWidget(makeNewSide(), 1);

    auto* column = new QWidget;
    column->setMaximumWidth(1040);
    auto* stack = new QVBoxLayout(column);
    stack->setContentsMargins(0, 0, 0, 0);
    stack->setSpacing(kGap);
    stack->addWidget(title);
    stack->addWidget(line);
    stack->addSpacing(kGrid);
    stack->addWidget(trouble_);
    stack->addLayout(remedies);
    stack->addLayout(sides);
    stack->addWidget(busy_);

    auto* page = new QGridLayout(this);
    page->setContentsMargins(kMargin, kMargin, kMargin, kMargin);
    page->setRowStretch(0, 1);
    page->setRowStretch(2, 2);
    page->setColumnStretch(0, 1);
    page->setColumnStretch(1, 40);
    page->setColumnStretch(2, 1);
    page->addWidget(column, 1, 1);
    setTrouble({});
    setBusy({});
}

QWidget* StartPage::makeOpenSide() {
    auto* card = new Card(tr("Open a shop"));
    recent_ = new QListWidget;
    recent_->setObjectName(QStringLiteral("recentShops"));
    recent_->setAccessibleName(tr("Shops opened here before"));
    connect(recent_, &QListWidget::itemActivated, this,
            [this](QListWidgetItem* item) { emit openWanted(item->data(Qt::UserRole).toString()); });
    auto* browse = new QPushButton(icon(QStringLiteral("open")), tr("&Open another folder…"));
    browse->setObjectName(QStringLiteral("openFolder"));
    connect(browse, &QPushButton::clicked, this, &StartPage::browseWanted);
    server_ = new QLineEdit;
    server_->setObjectName(QStringLiteral("serverAddress"));
    server_->setPlaceholderText(QStringLiteral("postgresql://user@host/database"));
    server_->setToolTip(tr("The password comes from the password file (~/.pgpass), never from here."));
    auto* label = new QLabel(tr("Or on a &server:"));
    label->setBuddy(server_);
    auto* connectTo = new QPushButton(tr("Connec&t"));
    connectTo->setObjectName(QStringLiteral("openServer"));
    const auto open = [this] {
        const QString address = server_->text().trimmed();
        if (!address.isEmpty())
            emit openWanted(address);
    };
    connect(connectTo, &QPushButton::clicked, this, open);
    connect(server_, &QLineEdit::returnPressed, this, open);
    auto* server = new QHBoxLayout;
    server->addWidget(label);
    server->addWidget(server_, 1);
    server->addWidget(connectTo);
    card->body()->addWidget(recent_, 1);
    card->body()->addWidget(browse, 0, Qt::AlignLeft);
    card->body()->addLayout(server);
    return card;
}

QWidget* StartPage::makeNewSide() {
    auto* card = new Card(tr("Start a new shop"));
    name_ = new QLineEdit;
    name_->setPlaceholderText(tr("as it is printed on the quote"));
    unit_ = new Segmented({tr("Miles"), tr("Kilometres")});
    unit_->setCurrent(QLocale().measurementSystem() == QLocale::MetricSystem ? 1 : 0);
    currency_ = new QLineEdit(QLocale().currencySymbol(QLocale::CurrencyIsoCode));
    if (currency_->text().isEmpty())
        currency_->setText(QStringLiteral("USD"));
    currency_->setMaxLength(3);
    home_ = new QLineEdit;
    auto* pick = new QPushButton(icon(QStringLiteral("open")), tr("&Choose the folder…"));
    connect(pick, &QPushButton::clicked, this, &StartPage::browseForHomeWanted);

    form_ = new FormGrid(2);
    form_->addField(tr("Shop's &name"), name_, QStringLiteral("name"), 0);
    form_->addField(tr("Odometers in"), unit_, QStringLiteral("unit"));
    form_->addField(tr("C&urrency (ISO 4217)"), currency_, QStringLiteral("currency"));
    form_->addField(tr("&Kept in the folder"), home_, QStringLiteral("home"), 0);
    auto* under = new QWidget;
    auto* left = new QHBoxLayout(under);
    left->setContentsMargins(0, 0, 0, 0);
    left->addWidget(pick);
    left->addStretch(1);
    form_->addWide(under);

    create_ = new QPushButton(tr("Start this shop"));
    create_->setObjectName(QStringLiteral("createShop"));
    theme::setRole(create_, ButtonRole::Primary);
    theme::setLarge(create_);
    connect(create_, &QPushButton::clicked, this, &StartPage::create);
    connect(name_, &QLineEdit::returnPressed, this, &StartPage::create);

    auto* row = new QHBoxLayout;
    row->addWidget(create_);
    row->addStretch(1);
    card->body()->addWidget(form_);
    card->body()->addStretch(1);
    card->body()->addLayout(row);
    return card;
}

void StartPage::setRecent(const QStringList& folders) {
    recent_->clear();
    for (const QString& folder : folders) {
        const bool isAddress = folder.contains(QStringLiteral("://"));
        auto* item = new QListWidgetItem(icon(QStringLiteral("job")),
                                         isAddress ? folder.section(QStringLiteral("://"), 1)
                                                   : QFileInfo(folder).completeBaseName());
        item->setData(Qt::UserRole, folder);
        item->setToolTip(isAddress ? folder : QDir::toNativeSeparators(folder));
        recent_->addItem(item);
    }
    if (recent_->count() > 0) {
        recent_->setCurrentRow(0);
        recent_->setFocus();
    } else {
        name_->setFocus();
    }
}

void StartPage::setHome(const QString& folder) {
    if (home_->text().isEmpty())
        home_->setText(QDir::toNativeSeparators(folder));
}

void StartPage::setHomePicked(const QString& folder) {
    home_->setText(QDir::toNativeSeparators(folder));
}

void StartPage::setTrouble(const QString& sentence, Remedies remedies) {
    const bool any = !sentence.isEmpty();
    trouble_->setText(sentence);
    trouble_->setVisible(any);
    restore_->setVisible(any && remedies.restore);
    look_->setVisible(any && remedies.look);
    salvage_->setVisible(any && remedies.salvage);
}

void StartPage::setBusy(const QString& what) {
    busy_->setText(what);
    busy_->setVisible(!what.isEmpty());
    create_->setEnabled(what.isEmpty());
    recent_->setEnabled(what.isEmpty());
    for (auto* one : {restore_, look_, salvage_})
        one->setEnabled(what.isEmpty());
}

void StartPage::create() {
    core::ShopSettings settings;
    settings.name = toUtf8(name_->text().trimmed());
    settings.unit = unit_->current() == 1 ? core::DistanceUnit::Kilometres : core::DistanceUnit::Miles;
    settings.currency = toUtf8(currency_->text().trimmed().toUpper());
    core::Findings findings;
    if (settings.name.empty())
        findings.push_back({"name", core::Severity::Error, toUtf8(tr("A shop needs a name."))});
    if (settings.currency.size() != 3)
        findings.push_back(
            {"currency", core::Severity::Error, toUtf8(tr("Three letters, such as USD or EUR."))});
    if (home_->text().trimmed().isEmpty())
        findings.push_back(
            {"home", core::Severity::Error, toUtf8(tr("Say in which folder the shop is kept."))});
    form_->setFindings(findings);
    if (!findings.empty()) {
        form_->focusField(QString::fromStdString(findings.front().field));
        return;
    }
    const QDir home(QDir::fromNativeSeparators(home_->text().trimmed()));
    emit createWanted(home.filePath(folderNameFor(name_->text())), settings);
}

} // namespace milehold::ui
