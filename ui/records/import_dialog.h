// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QDialog>
#include <QStringList>

#include <optional>
#include <vector>

class QCheckBox;
class QComboBox;
class QLabel;
class QPushButton;
class QTableWidget;

namespace milehold::ui {

class RecordTable;

/// Plain values of a table that comes in; the words are those of the file and of our own columns.
struct ImportStart {
    QString fileName;
    QStringList header;
    QList<QStringList> rows; ///< the first few, to look at
    QStringList columns;     ///< ours, for this kind of record
    QStringList required;    ///< of these, what every row needs
    QStringList guessed;     ///< for each of the header, one of ours or blank
};

struct ImportFault {
    QString line;
    QString column;
    QString what;
};

struct ImportOutcome {
    int rows = 0;
    int added = 0;
    int changed = 0;
    int there = 0;
    QList<ImportFault> faults;
    bool kept = false;
    QString trouble; ///< not blank: the file could not be read, or the records not be saved
};

/// A table from elsewhere on its way into the shop: what it holds, which column is which, what a trial finds,
/// and only then the import. All rows or none, unless good rows alone are chosen.
class ImportDialog : public QDialog {
    Q_OBJECT
public:
    explicit ImportDialog(QWidget* parent = nullptr);

    /// 0 customers, 1 vehicles, 2 jobs, 3 follow-ups, 4 odometer readings.
    int kind() const;
    void setKind(int kind);
    void setStart(const ImportStart& start);
    /// For each of the header one of ours or blank.
    QStringList columns() const;
    bool goodRowsOnly() const;
    bool replaces() const;
    /// What a trial found, or what the import did.
    void setOutcome(const ImportOutcome& outcome);
    void setBusy(const QString& what);

signals:
    void fileWanted();
    void kindChanged(int kind);
    void trialWanted();
    void importWanted();

private:
    void showPreview();
    void forgetTrial();
    void updateButtons();

    ImportStart start_;
    std::optional<ImportOutcome> trial_;
    bool busy_ = false;
    QComboBox* kind_;
    QLabel* file_;
    QTableWidget* preview_;
    std::vector<QComboBox*> choices_;
    QCheckBox* update_;
    QCheckBox* goodRows_;
    QLabel* sentence_;
    RecordTable* faults_;
    QPushButton* try_;
    QPushButton* import_;
};

} // namespace milehold::ui
