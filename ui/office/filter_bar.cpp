// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/office/filter_bar.h"

#include "ui/theme/theme.h"
#include "ui/widgets/date_field.h"
#include "ui/widgets/text.h"
#include "ui/words/amounts.h"
#include "ui/words/labelled.h"

#include <QComboBox>
#include <QCoreApplication>
#include <QHBoxLayout>
#include <QLabel>
#include <QPushButton>
#include <QSignalBlocker>
#include <QSpinBox>
#include <QVBoxLayout>

namespace milehold::ui {

namespace {

constexpr int kNoYear = 1959; // shown as "any"
constexpr int kLastYear = 2099;

QSpinBox* yearField(const QString& objectName, QWidget* parent) {
    auto* year = new QSpinBox(parent);
    year->setObjectName(objectName);
    year->setRange(kNoYear, kLastYear);
    year->setSpecialValueText(FilterBar::tr("any"));
    year->setGroupSeparatorShown(false);
    year->setKeyboardTracking(false);
    year->setFixedHeight(kControlHeight);
    return year;
}

QVariant keyOf(const core::Uuid& uuid) {
    return toText(core::toString(uuid));
}

template <class Id>
void fill(QComboBox& combo, const QString& any, const std::vector<std::pair<Id, std::string>>& choices,
          const std::optional<Id>& chosen) {
    combo.clear();
    combo.addItem(any);
    for (const auto& [id, name] : choices) {
        combo.addItem(toText(name), keyOf(id.uuid));
        combo.setItemData(combo.count() - 1, toText(name), Qt::ToolTipRole);
    }
    combo.setCurrentIndex(chosen ? std::max(0, combo.findData(keyOf(chosen->uuid))) : 0);
}

template <class Id> std::optional<Id> chosen(const QComboBox& combo) {
    const auto uuid = core::uuidFromString(toUtf8(combo.currentData().toString()));
    return uuid ? std::optional(Id{*uuid}) : std::nullopt;
}

std::optional<int> yearOf(const QSpinBox& year) {
    return year.value() == kNoYear ? std::nullopt : std::optional(year.value());
}

} // namespace

FilterBar::FilterBar(QWidget* parent) : QWidget(parent) {
    facet_ = modestCombo(QStringLiteral("facet"), 9, this);
    for (const core::Facet& facet : core::facets()) {
        const QByteArray label(facet.label.data(), static_cast<qsizetype>(facet.label.size()));
        facet_->addItem(QCoreApplication::translate("Facet", label.constData()),
                        QString::fromUtf8(facet.id.data(), static_cast<qsizetype>(facet.id.size())));
    }
    family_ = modestCombo(QStringLiteral("family"), 7, this);
    path_ = modestCombo(QStringLiteral("path"), 8, this);
    fromYear_ = yearField(QStringLiteral("fromYear"), this);
    toYear_ = yearField(QStringLiteral("toYear"), this);
    toYear_->setAccessibleName(tr("Model years up to"));
    technician_ = modestCombo(QStringLiteral("technician"), 7, this);
    period_ = modestCombo(QStringLiteral("period"), 7, this);
    period_->addItem(tr("any time"));
    period_->addItem(tr("last 12 months"));
    period_->addItem(tr("last 3 years"));
    period_->addItem(tr("between \u2026"));
    from_ = new DateField(this);
    from_->setObjectName(QStringLiteral("from"));
    from_->setAccessibleName(tr("Delivered from"));
    to_ = new DateField(this);
    to_->setObjectName(QStringLiteral("to"));
    to_->setAccessibleName(tr("Delivered up to"));
    clear_ = new QPushButton(tr("Show &all"), this);
    clear_->setObjectName(QStringLiteral("clearFilters"));
    clear_->setToolTip(tr("Takes every filter off"));
    theme::setRole(clear_, ButtonRole::Quiet);

    auto* years = new QWidget(this);
    auto* yearsRow = new QHBoxLayout(years);
    yearsRow->setContentsMargins(0, 0, 0, 0);
    yearsRow->setSpacing(kHalf);
    fromYear_->setParent(years);
    toYear_->setParent(years);
    yearsRow->addWidget(fromYear_);
    yearsRow->addWidget(new QLabel(QStringLiteral("\u2013"), years));
    yearsRow->addWidget(toYear_);

    between_ = new QWidget(this);
    auto* betweenRow = new QHBoxLayout(between_);
    betweenRow->setContentsMargins(0, 0, 0, 0);
    betweenRow->setSpacing(kHalf);
    from_->setParent(between_);
    to_->setParent(between_);
    betweenRow->addWidget(from_);
    betweenRow->addWidget(new QLabel(QStringLiteral("\u2013"), between_));
    betweenRow->addWidget(to_);
    between_->hide();

    auto* row = new QHBoxLayout(this);
    row->setContentsMargins(0, 0, 0, 0);
    row->setSpacing(kGrid + kHalf);
    row->addLayout(labelled(tr("&Grouped by"), facet_), 14);
    row->addLayout(labelled(tr("&Engine"), family_), 12);
    row->addLayout(labelled(tr("Repair &path"), path_), 14);
    row->addLayout(labelled(tr("Model &years"), years, fromYear_));
    row->addLayout(labelled(tr("&Technician"), technician_), 10);
    row->addLayout(labelled(tr("&Delivered"), period_), 10);
    row->addWidget(between_, 0, Qt::AlignBottom);
    row->addWidget(clear_, 0, Qt::AlignBottom);

    for (QComboBox* combo : {facet_, family_, path_, technician_, period_}) {
        connect(combo, &QComboBox::currentIndexChanged, this, &FilterBar::fieldEdited);
    }
    for (QSpinBox* year : {fromYear_, toYear_}) {
        connect(year, &QSpinBox::valueChanged, this, &FilterBar::fieldEdited);
    }
    for (DateField* date : {from_, to_})
        connect(date, &DateField::edited, this, &FilterBar::fieldEdited);
    connect(clear_, &QPushButton::clicked, this, &FilterBar::clearFilters);
    setChoices({});
}

void FilterBar::setChoices(const OfficeChoices& choices) {
    choices_ = choices;
    setQuery(query_);
}

void FilterBar::setQuery(const OfficeQuery& query) {
    query_ = query;
    filling_ = true;
    facet_->setCurrentIndex(std::max(0, facet_->findData(toText(query.facet))));
    fill(*family_, tr("all engines"), choices_.families, query.family);
    fill(*path_, tr("all paths"), choices_.paths, query.path);
    fill(*technician_, tr("everybody"), choices_.technicians, query.technician);
    fromYear_->setValue(query.fromYear.value_or(kNoYear));
    toYear_->setValue(query.toYear.value_or(kNoYear));
    const bool asked = query.from || query.to;
    Period period = asked ? Period::Between : Period::Any;
    if (choices_.today.ok() && query.from && !query.to) {
        if (*query.from == core::addMonths(choices_.today, -12))
            period = Period::Year;
        if (*query.from == core::addMonths(choices_.today, -36))
            period = Period::ThreeYears;
    }
    period_->setCurrentIndex(static_cast<int>(period));
    if (period == Period::Between) {
        from_->setDate(query.from);
        to_->setDate(query.to);
    } else if (choices_.today.ok()) {
        from_->setDate(core::addMonths(choices_.today, -12));
        to_->setDate(choices_.today);
    }
    from_->setToday(choices_.today);
    to_->setToday(choices_.today);
    filling_ = false;
    showPeriod();
    clear_->setEnabled(query.filters());
}

OfficeQuery FilterBar::query() const {
    OfficeQuery query = query_;
    if (facet_->currentIndex() >= 0)
        query.facet = toUtf8(facet_->currentData().toString());
    query.family = chosen<core::EngineFamilyId>(*family_);
    query.path = chosen<core::RepairPathId>(*path_);
    query.technician = chosen<core::StaffId>(*technician_);
    query.fromYear = yearOf(*fromYear_);
    query.toYear = yearOf(*toYear_);
    query.from.reset();
    query.to.reset();
    switch (static_cast<Period>(period_->currentIndex())) {
    case Period::Any:
        break;
    case Period::Year:
        query.from = core::addMonths(choices_.today, -12);
        break;
    case Period::ThreeYears:
        query.from = core::addMonths(choices_.today, -36);
        break;
    case Period::Between:
        query.from = from_->date();
        query.to = to_->date();
        break;
    }
    return query;
}

void FilterBar::clearFilters() {
    OfficeQuery plain = query();
    if (!plain.filters())
        return;
    plain.family.reset();
    plain.path.reset();
    plain.technician.reset();
    plain.fromYear.reset();
    plain.toYear.reset();
    plain.from.reset();
    plain.to.reset();
    setQuery(plain);
    emit edited();
}

void FilterBar::showPeriod() {
    between_->setVisible(static_cast<Period>(period_->currentIndex()) == Period::Between);
}

void FilterBar::fieldEdited() {
    if (filling_)
        return;
    showPeriod();
    clear_->setEnabled(query().filters());
    emit edited();
}

} // namespace milehold::ui
