<?xml version="1.0" encoding="utf-8"?>
<!DOCTYPE TS>
<TS version="2.1" language="en_US" sourcelanguage="en_US">
<context>
    <name>milehold::app::BackupController</name>
    <message numerus="yes">
        <source>Backup %n minute(s) ago</source>
        <translation>
            <numerusform>Backup %n minute ago</numerusform>
            <numerusform>Backup %n minutes ago</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>Backup %n hour(s) ago</source>
        <translation>
            <numerusform>Backup %n hour ago</numerusform>
            <numerusform>Backup %n hours ago</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>Backup %n day(s) ago</source>
        <translation>
            <numerusform>Backup %n day ago</numerusform>
            <numerusform>Backup %n days ago</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>milehold::ui::PathPartsEditor</name>
    <message numerus="yes">
        <source>Add to %n position(s)</source>
        <translation>
            <numerusform>Add to %n position</numerusform>
            <numerusform>Add to %n positions</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>milehold::ui::ForgetDialog</name>
    <message numerus="yes">
        <source>%n job(s) of this customer still in work.</source>
        <translation>
            <numerusform>%n job of this customer is still in work.</numerusform>
            <numerusform>%n jobs of this customer are still in work.</numerusform>
        </translation>
    </message>
</context>
</TS>
