// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QLineEdit>
#include <QVariant>

class QListView;
class QTimer;

namespace milehold::ui {

struct SearchResult {
    QString icon;   ///< name of an icon
    QString title;  ///< `Plate 7 KLM 204`
    QString detail; ///< what tells it from its neighbours
    QString kind;   ///< `Vehicle`, `Repair order`
    QVariant key;   ///< comes back in chosen()
};

class SearchModel;

/// A field that looks things up while one types. Results drop down below it; Up and Down move, Return
/// chooses, Escape closes, then clears. The keyboard stays in the field all the time.
class SearchBox : public QLineEdit {
    Q_OBJECT
public:
    explicit SearchBox(QWidget* parent = nullptr);

    /// Shows what was found for `query`; an answer to what is no longer in the field is passed over.
    void setResults(const QString& query, const QList<SearchResult>& results);
    /// What stands under the field when nothing was found.
    void setNothingFoundText(const QString& text);
    bool isOpen() const;
    /// The first result is taken at Return without moving to it: right for a scanner, which ends with Return.
    int resultCount() const;

    QSize sizeHint() const override;

signals:
    /// The text after a short rest in typing; blank asks for nothing.
    void queryChanged(const QString& query);
    void chosen(const QVariant& key);
    /// Return without a result: a scan, or a number that was typed too fast for an answer.
    void submitted(const QString& text);

protected:
    void keyPressEvent(QKeyEvent* event) override;
    void focusOutEvent(QFocusEvent* event) override;
    void paintEvent(QPaintEvent* event) override;
    bool eventFilter(QObject* watched, QEvent* event) override;

private:
    void open();
    void close();
    void choose(int row);
    void place();

    SearchModel* model_;
    QWidget* popup_ = nullptr;
    QListView* list_ = nullptr;
    QTimer* rest_;
    QString answered_;
    bool hasAnswer_ = false;
    bool wantsFirst_ = false;
    QString nothingFound_;
};

} // namespace milehold::ui
