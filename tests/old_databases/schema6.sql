BEGIN TRANSACTION;
CREATE TABLE "_sqlite_migrations" (
   "id" INTEGER PRIMARY KEY,
   "migration_set" TEXT,
   "name" TEXT,
   "applied_at" TEXT
);
INSERT INTO "_sqlite_migrations" VALUES(1,'lastcoat','schema 1','2026-11-25 09:44:59.807050+00:00');
INSERT INTO "_sqlite_migrations" VALUES(2,'lastcoat','schema 2','2026-11-25 12:31:20.007489+00:00');
INSERT INTO "_sqlite_migrations" VALUES(3,'lastcoat','schema 3','2026-11-25 14:56:40.119728+00:00');
INSERT INTO "_sqlite_migrations" VALUES(4,'lastcoat','schema 4','2026-11-25 18:06:52.197206+00:00');
INSERT INTO "_sqlite_migrations" VALUES(5,'lastcoat','schema 5','2026-11-25 21:30:54.279242+00:00');
INSERT INTO "_sqlite_migrations" VALUES(6,'lastcoat','schema 6','2026-11-25 22:37:35.117881+00:00');
CREATE TABLE army (
        id INTEGER PRIMARY KEY,
        uid TEXT NOT NULL UNIQUE CHECK (uid <> ''),
        name TEXT NOT NULL CHECK (name <> ''),
        name_key TEXT NOT NULL UNIQUE
    ) STRICT
    ;
INSERT INTO "army" VALUES(1,'n1','My army','my army');
INSERT INTO "army" VALUES(2,'n8','Ones','ones');
CREATE TABLE base_before (
        id INTEGER PRIMARY KEY,
        uid TEXT NOT NULL UNIQUE CHECK (uid <> ''),
        unit_id INTEGER NOT NULL REFERENCES unit (id),
        base TEXT NOT NULL CHECK (base <> ''),
        until TEXT NOT NULL CHECK (until GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]' AND date(until) = until)
    ) STRICT
    ;
INSERT INTO "base_before" VALUES(1,'n1',1,'20x20','2026-03-10');
CREATE TABLE change (
        id INTEGER PRIMARY KEY,
        verb TEXT NOT NULL,
        words TEXT NOT NULL,
        at TEXT NOT NULL,
        undone INTEGER NOT NULL DEFAULT 0 CHECK (undone IN (0, 1))
    ) STRICT
    ;
INSERT INTO "change" VALUES(1,'add','5 models of Spears (My army)','2026-03-10T21:30:00',0);
INSERT INTO "change" VALUES(2,'add','2 models of 🐉 ''quoted'' (Ones)','2026-03-10T21:30:00',0);
INSERT INTO "change" VALUES(3,'log','cleaning, 3 of 5 Spears, 0.1 min (Mon 2 Mar)','2026-03-10T21:30:00',0);
INSERT INTO "change" VALUES(4,'log','cleaning, 1 of 5 Spears, still in hand (Tue 3 Mar)','2026-03-10T21:30:00',0);
INSERT INTO "change" VALUES(5,'mark','1 model of Spears: priming skipped (Tue 10 Mar)','2026-03-10T21:30:00',0);
INSERT INTO "change" VALUES(6,'leave','1 model of Spears: sold (Tue 10 Mar)','2026-03-10T21:30:00',0);
INSERT INTO "change" VALUES(7,'lamp','on since 20:00','2026-03-10T20:00:00',0);
INSERT INTO "change" VALUES(8,'lamp','paused','2026-03-10T20:30:00',0);
INSERT INTO "change" VALUES(9,'lamp','gone on after a rest','2026-03-10T20:40:00',0);
INSERT INTO "change" VALUES(10,'models','1 model of Spears: part rider','2026-03-10T20:50:00',0);
INSERT INTO "change" VALUES(11,'lamp','paused','2026-03-10T21:00:00',0);
INSERT INTO "change" VALUES(12,'plan','every Tuesday and Thursday','2026-03-10T21:30:00',0);
INSERT INTO "change" VALUES(13,'plan','away 1 to 5 April 2026','2026-03-10T21:30:00',0);
INSERT INTO "change" VALUES(14,'goal','club day','2026-03-10T21:30:00',0);
INSERT INTO "change" VALUES(15,'ranks','Spears: base 25x25, rules and measures','2026-03-10T21:30:00',0);
INSERT INTO "change" VALUES(16,'bench book','everything of it','2026-03-10T21:30:00',0);
CREATE TABLE change_row (id INTEGER PRIMARY KEY, change_id INTEGER NOT NULL REFERENCES change (id) ON DELETE CASCADE, table_name TEXT NOT NULL, act TEXT NOT NULL CHECK (act IN ('insert', 'update', 'delete')), v0 ANY, v1 ANY, v2 ANY, v3 ANY, v4 ANY, v5 ANY, v6 ANY, v7 ANY, v8 ANY, v9 ANY, v10 ANY, v11 ANY, v12 ANY, v13 ANY, v14 ANY, v15 ANY, v16 ANY, v17 ANY, v18 ANY, v19 ANY, v20 ANY, v21 ANY) STRICT;
INSERT INTO "change_row" VALUES(1,1,'army','insert',1,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "change_row" VALUES(2,1,'unit','insert',1,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "change_row" VALUES(3,1,'route_step','insert',1,1,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "change_row" VALUES(4,1,'route_step','insert',1,2,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "change_row" VALUES(5,1,'route_step','insert',1,3,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "change_row" VALUES(6,1,'route_step','insert',1,4,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "change_row" VALUES(7,1,'route_step','insert',1,5,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "change_row" VALUES(8,1,'route_step','insert',1,6,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "change_row" VALUES(9,1,'route_step','insert',1,7,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "change_row" VALUES(10,1,'route_step','insert',1,8,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "change_row" VALUES(11,1,'route_step','insert',1,9,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "change_row" VALUES(12,1,'route_step','insert',1,10,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "change_row" VALUES(13,1,'route_step','insert',1,11,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "change_row" VALUES(14,1,'route_step','insert',1,12,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "change_row" VALUES(15,1,'model','insert',1,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "change_row" VALUES(16,1,'model','insert',2,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "change_row" VALUES(17,1,'model','insert',3,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "change_row" VALUES(18,1,'model','insert',4,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "change_row" VALUES(19,1,'model','insert',5,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "change_row" VALUES(20,1,'model','update',1,'n3',1,1,'','','','2026-03-01',NULL,'','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "change_row" VALUES(21,2,'army','insert',2,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "change_row" VALUES(22,2,'unit','insert',2,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "change_row" VALUES(23,2,'own_step','insert',1,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "change_row" VALUES(24,2,'route_step','insert',2,1,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "change_row" VALUES(25,2,'route_step','insert',2,2,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "change_row" VALUES(26,2,'model','insert',6,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "change_row" VALUES(27,2,'model','insert',7,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "change_row" VALUES(28,2,'mark','insert',1,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "change_row" VALUES(29,2,'mark','insert',2,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "change_row" VALUES(30,3,'session','insert',1,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "change_row" VALUES(31,3,'line','insert',1,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "change_row" VALUES(32,3,'line_model','insert',1,1,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "change_row" VALUES(33,3,'line_model','insert',1,2,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "change_row" VALUES(34,3,'line_model','insert',1,3,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "change_row" VALUES(35,4,'session','insert',2,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "change_row" VALUES(36,4,'line','insert',2,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "change_row" VALUES(37,4,'line_model','insert',2,4,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "change_row" VALUES(38,5,'mark','insert',3,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "change_row" VALUES(39,6,'model','update',4,'n6',1,4,'','','','2026-03-01',NULL,'','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "change_row" VALUES(40,7,'lamp','insert',1,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "change_row" VALUES(41,8,'lamp_rest','insert',1,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "change_row" VALUES(42,9,'lamp_rest','update',1,'2026-03-10T20:30:00+01:00',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "change_row" VALUES(43,10,'model','update',2,'n4',1,2,'','','','2026-03-01',NULL,'','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "change_row" VALUES(44,11,'lamp_rest','insert',2,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "change_row" VALUES(45,12,'declared','insert',1,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "change_row" VALUES(46,13,'declared','insert',2,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "change_row" VALUES(47,14,'goal','insert',1,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "change_row" VALUES(48,14,'goal_unit','insert',1,1,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "change_row" VALUES(49,15,'unit','update',1,'n2',1,'Spears','spears','infantry','plastic','table-top','20x20',NULL,NULL,80.5,NULL,'2026-05-01','a game',NULL,'','','','',0,'2026-03-01');
INSERT INTO "change_row" VALUES(50,15,'base_before','insert',1,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "change_row" VALUES(51,15,'unit','update',1,'n2',1,'Spears','spears','infantry','plastic','table-top','20x20',2,2,80.5,NULL,'2026-05-01','a game',NULL,'','','','',0,'2026-03-01');
INSERT INTO "change_row" VALUES(52,15,'rank_rule','insert',1,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "change_row" VALUES(53,15,'rank_model','insert',1,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "change_row" VALUES(54,15,'rank_check','insert',1,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "change_row" VALUES(55,15,'rank_block','insert',1,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "change_row" VALUES(56,15,'rank_place','insert',1,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "change_row" VALUES(57,15,'rank_place','insert',2,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "change_row" VALUES(58,16,'recipe','insert',1,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "change_row" VALUES(59,16,'recipe_version','insert',1,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "change_row" VALUES(60,16,'recipe_step','insert',1,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "change_row" VALUES(61,16,'recipe_version','insert',2,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "change_row" VALUES(62,16,'recipe_step','insert',2,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "change_row" VALUES(63,16,'recipe','insert',2,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "change_row" VALUES(64,16,'recipe_version','insert',3,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "change_row" VALUES(65,16,'recipe_use','insert',1,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "change_row" VALUES(66,16,'recipe_use','insert',2,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "change_row" VALUES(67,16,'paint_out','insert',1,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "change_row" VALUES(68,16,'keeping','insert',1,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "change_row" VALUES(69,16,'role','insert',1,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "change_row" VALUES(70,16,'deal','insert',1,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "change_row" VALUES(71,16,'deal_model','insert',1,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "change_row" VALUES(72,16,'list_target','insert',1,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "change_row" VALUES(73,16,'photo','insert',1,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "change_row" VALUES(74,16,'cure','insert',1,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "change_row" VALUES(75,16,'dried','insert',1,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "change_row" VALUES(76,16,'lead_free','insert',1,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
CREATE TABLE change_seal (
        change_id INTEGER PRIMARY KEY REFERENCES change (id) ON DELETE CASCADE,
        row_count INTEGER NOT NULL,
        digest INTEGER NOT NULL
    ) STRICT
    ;
INSERT INTO "change_seal" VALUES(1,21,44060643767);
INSERT INTO "change_seal" VALUES(2,10,21407611770);
INSERT INTO "change_seal" VALUES(3,6,13110467954);
INSERT INTO "change_seal" VALUES(4,4,9934397051);
INSERT INTO "change_seal" VALUES(5,2,1390269533);
INSERT INTO "change_seal" VALUES(6,2,2533465691);
INSERT INTO "change_seal" VALUES(7,2,7820478724);
INSERT INTO "change_seal" VALUES(8,2,5600214883);
INSERT INTO "change_seal" VALUES(9,2,2643490959);
INSERT INTO "change_seal" VALUES(10,2,553120134);
INSERT INTO "change_seal" VALUES(11,2,7533707017);
INSERT INTO "change_seal" VALUES(12,2,3632410859);
INSERT INTO "change_seal" VALUES(13,2,3969436748);
INSERT INTO "change_seal" VALUES(14,3,6406862175);
INSERT INTO "change_seal" VALUES(15,10,24275356461);
INSERT INTO "change_seal" VALUES(16,20,37484399720);
CREATE TABLE cure (
        id INTEGER PRIMARY KEY, uid TEXT NOT NULL UNIQUE CHECK (uid <> ''),
        what TEXT NOT NULL CHECK (what <> ''),
        unit_id INTEGER REFERENCES unit (id),
        begun_at TEXT NOT NULL CHECK (begun_at GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]T[0-9][0-9]:[0-9][0-9]*'),
        low_hours REAL NOT NULL CHECK (low_hours >= 0),
        usual_hours REAL NOT NULL CHECK (usual_hours >= low_hours),
        high_hours REAL NOT NULL CHECK (high_hours >= usual_hours),
        ended_at TEXT CHECK (ended_at GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]T[0-9][0-9]:[0-9][0-9]*')
    ) STRICT
    ;
INSERT INTO "cure" VALUES(1,'n17','putty',1,'2026-03-01T21:30',4.0,16.0,24.0,NULL);
CREATE TABLE deal (
        id INTEGER PRIMARY KEY, uid TEXT NOT NULL UNIQUE CHECK (uid <> ''),
        how TEXT NOT NULL CHECK (how IN ('bought', 'swapped', 'gifted', 'printed', 'found', 'sold',
            'swapped away', 'given away')),
        whom TEXT NOT NULL,
        amount TEXT,
        currency TEXT NOT NULL CHECK (currency = '' OR currency GLOB '[A-Z][A-Z][A-Z]'),
        postage TEXT,
        exchange TEXT NOT NULL,
        note TEXT NOT NULL,
        day TEXT NOT NULL CHECK (day GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]' AND date(day) = day),
        CHECK (currency <> '' OR (amount IS NULL AND postage IS NULL))
    ) STRICT
    ;
INSERT INTO "deal" VALUES(1,'n13','bought','a club table','12.50','EUR','3','','','2026-03-01');
CREATE TABLE deal_model (
        id INTEGER PRIMARY KEY, uid TEXT NOT NULL UNIQUE CHECK (uid <> ''),
        deal_id INTEGER NOT NULL REFERENCES deal (id),
        model_id INTEGER NOT NULL REFERENCES model (id),
        UNIQUE (deal_id, model_id)
    ) STRICT
    ;
INSERT INTO "deal_model" VALUES(1,'n14',1,1);
CREATE TABLE declared (
        id INTEGER PRIMARY KEY,
        uid TEXT NOT NULL UNIQUE CHECK (uid <> ''),
        kind TEXT NOT NULL CHECK (kind IN ('evenings', 'once', 'away')),
        first TEXT NOT NULL CHECK (first GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]' AND date(first) = first),
        last TEXT CHECK (last IS NULL OR (last GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]' AND date(last) = last AND last >= first)),
        rule TEXT NOT NULL CHECK ((kind = 'evenings') = (rule <> '')),
        without TEXT NOT NULL,
        minutes REAL CHECK (minutes > 0),
        note TEXT NOT NULL,
        said_on TEXT NOT NULL CHECK (said_on GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]' AND date(said_on) = said_on)
    ) STRICT
    ;
INSERT INTO "declared" VALUES(1,'n1','evenings','2026-03-10',NULL,'FREQ=WEEKLY;BYDAY=TU,TH','2026-04-02',NULL,'','2026-03-10');
INSERT INTO "declared" VALUES(2,'n2','away','2026-04-01','2026-04-05','','',NULL,'','2026-03-10');
CREATE TABLE draft (
        id INTEGER PRIMARY KEY CHECK (id = 1),
        words TEXT NOT NULL
    ) STRICT
    ;
INSERT INTO "draft" VALUES(1,'primed 2 spears, ''half');
CREATE TABLE dried (
        id INTEGER PRIMARY KEY, uid TEXT NOT NULL UNIQUE CHECK (uid <> ''),
        line_id INTEGER NOT NULL UNIQUE REFERENCES line (id),
        dry_at TEXT NOT NULL CHECK (dry_at GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]T[0-9][0-9]:[0-9][0-9]*')
    ) STRICT
    ;
INSERT INTO "dried" VALUES(1,'n18',1,'2026-03-01T23:00');
CREATE TABLE goal (
        id INTEGER PRIMARY KEY,
        uid TEXT NOT NULL UNIQUE CHECK (uid <> ''),
        name TEXT NOT NULL CHECK (name <> ''),
        name_key TEXT NOT NULL UNIQUE,
        date TEXT NOT NULL CHECK (date GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]' AND date(date) = date),
        models INTEGER CHECK (models >= 1),
        points REAL CHECK (points > 0),
        least_models INTEGER CHECK (least_models >= 1),
        said_on TEXT NOT NULL CHECK (said_on GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]' AND date(said_on) = said_on)
    ) STRICT
    ;
INSERT INTO "goal" VALUES(1,'n3','Club day','club day','2026-05-01',4,NULL,3,'2026-03-10');
CREATE TABLE goal_unit (
        goal_id INTEGER NOT NULL REFERENCES goal (id),
        unit_id INTEGER NOT NULL REFERENCES unit (id),
        PRIMARY KEY (goal_id, unit_id)
    ) STRICT, WITHOUT ROWID
    ;
INSERT INTO "goal_unit" VALUES(1,1);
CREATE TABLE journal_head (
        id INTEGER PRIMARY KEY CHECK (id = 1),
        open_change INTEGER,
        state INTEGER NOT NULL
    ) STRICT
    ;
INSERT INTO "journal_head" VALUES(1,NULL,13);
CREATE TABLE keeping (
        id INTEGER PRIMARY KEY, uid TEXT NOT NULL UNIQUE CHECK (uid <> ''),
        model_id INTEGER NOT NULL UNIQUE REFERENCES model (id),
        height_mm REAL CHECK (height_mm > 0),
        material TEXT NOT NULL,
        base TEXT NOT NULL,
        state TEXT NOT NULL CHECK (state IN ('', 'bare', 'built', 'primed', 'begun', 'painted')),
        place TEXT NOT NULL,
        tags TEXT NOT NULL
    ) STRICT
    ;
INSERT INTO "keeping" VALUES(1,'n11',1,28.5,'metal','20x20','primed','drawer 2','spear
shield');
CREATE TABLE kept_fit (
        name TEXT PRIMARY KEY,
        log_state TEXT NOT NULL,
        version TEXT NOT NULL,
        blob BLOB NOT NULL
    ) STRICT
    ;
CREATE TABLE lamp (
        id INTEGER PRIMARY KEY CHECK (id = 1),
        began TEXT NOT NULL CHECK (began GLOB '????-??-??T??:??:??[+-]??:??')
    ) STRICT
    ;
INSERT INTO "lamp" VALUES(1,'2026-03-10T20:00:00+01:00');
CREATE TABLE lamp_rest (
        id INTEGER PRIMARY KEY,
        began TEXT NOT NULL CHECK (began GLOB '????-??-??T??:??:??[+-]??:??'),
        ended TEXT CHECK (ended IS NULL OR ended GLOB '????-??-??T??:??:??[+-]??:??')
    ) STRICT
    ;
INSERT INTO "lamp_rest" VALUES(1,'2026-03-10T20:30:00+01:00','2026-03-10T20:40:00+01:00');
INSERT INTO "lamp_rest" VALUES(2,'2026-03-10T21:00:00+01:00',NULL);
CREATE TABLE lead_free (
        id INTEGER PRIMARY KEY, uid TEXT NOT NULL UNIQUE CHECK (uid <> ''),
        unit_id INTEGER NOT NULL UNIQUE REFERENCES unit (id),
        said_on TEXT NOT NULL CHECK (said_on GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]' AND date(said_on) = said_on)
    ) STRICT
    ;
INSERT INTO "lead_free" VALUES(1,'n19',1,'2026-03-01');
CREATE TABLE line (
        id INTEGER PRIMARY KEY,
        uid TEXT NOT NULL UNIQUE CHECK (uid <> ''),
        session_id INTEGER NOT NULL REFERENCES session (id),
        unit_id INTEGER NOT NULL REFERENCES unit (id),
        step TEXT NOT NULL CHECK (step <> ''),
        models INTEGER NOT NULL CHECK (models >= 0),
        minutes REAL CHECK (minutes >= 0 AND minutes <= 1440),
        finished INTEGER NOT NULL CHECK (finished IN (0, 1)),
        guess_minutes REAL CHECK (guess_minutes >= 0),
        note TEXT NOT NULL,
        import_key TEXT NOT NULL
    ) STRICT
    ;
INSERT INTO "line" VALUES(1,'n13',1,1,'cleaning',3,0.1,1,NULL,'','');
INSERT INTO "line" VALUES(2,'n15',2,1,'cleaning',1,NULL,0,30.0,'slow; "quoted"
second line','');
CREATE TABLE line_model (
        line_id INTEGER NOT NULL REFERENCES line (id),
        model_id INTEGER NOT NULL REFERENCES model (id),
        PRIMARY KEY (line_id, model_id)
    ) STRICT, WITHOUT ROWID
    ;
INSERT INTO "line_model" VALUES(1,1);
INSERT INTO "line_model" VALUES(1,2);
INSERT INTO "line_model" VALUES(1,3);
INSERT INTO "line_model" VALUES(2,4);
CREATE TABLE list_target (
        id INTEGER PRIMARY KEY, uid TEXT NOT NULL UNIQUE CHECK (uid <> ''),
        army_id INTEGER NOT NULL UNIQUE REFERENCES army (id),
        points REAL NOT NULL CHECK (points > 0)
    ) STRICT
    ;
INSERT INTO "list_target" VALUES(1,'n15',1,1000.0);
CREATE TABLE mark (
        id INTEGER PRIMARY KEY,
        model_id INTEGER NOT NULL REFERENCES model (id),
        step TEXT NOT NULL CHECK (step <> ''),
        state TEXT NOT NULL CHECK (state IN ('not yet', 'in hand', 'done', 'skipped')),
        date TEXT NOT NULL CHECK (date GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]' AND date(date) = date),
        after_line INTEGER NOT NULL
    ) STRICT
    ;
INSERT INTO "mark" VALUES(1,6,'cleaning','done','2026-03-10',0);
INSERT INTO "mark" VALUES(2,7,'cleaning','done','2026-03-10',0);
INSERT INTO "mark" VALUES(3,5,'priming','skipped','2026-03-10',2);
CREATE TABLE model (
        id INTEGER PRIMARY KEY,
        uid TEXT NOT NULL UNIQUE CHECK (uid <> ''),
        unit_id INTEGER REFERENCES unit (id),
        number INTEGER NOT NULL CHECK (number >= 1),
        name TEXT NOT NULL,
        kind TEXT NOT NULL,
        note TEXT NOT NULL,
        added_on TEXT NOT NULL CHECK (added_on GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]' AND date(added_on) = added_on),
        left_on TEXT CHECK (left_on IS NULL OR left_on GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]' AND date(left_on) = left_on),
        left_how TEXT NOT NULL, part TEXT NOT NULL DEFAULT '',
        UNIQUE (unit_id, number)
    ) STRICT
    ;
INSERT INTO "model" VALUES(1,'n3',1,1,'captain','character','','2026-03-01',NULL,'','');
INSERT INTO "model" VALUES(2,'n4',1,2,'Tom','','','2026-03-01',NULL,'','rider');
INSERT INTO "model" VALUES(3,'n5',1,3,'','','','2026-03-01',NULL,'','');
INSERT INTO "model" VALUES(4,'n6',1,4,'','','','2026-03-01','2026-03-10','sold','');
INSERT INTO "model" VALUES(5,'n7',1,5,'','','','2026-03-01',NULL,'','');
INSERT INTO "model" VALUES(6,'n10',2,1,'','','','2026-03-10',NULL,'','');
INSERT INTO "model" VALUES(7,'n11',2,2,'','','','2026-03-10',NULL,'','');
CREATE TABLE own_step (
        id INTEGER PRIMARY KEY,
        name TEXT NOT NULL CHECK (name <> ''),
        name_key TEXT NOT NULL UNIQUE,
        catalogue TEXT NOT NULL,
        wait_hours REAL CHECK (wait_hours >= 0)
    ) STRICT
    ;
INSERT INTO "own_step" VALUES(1,'own step','own step','',NULL);
CREATE TABLE paint_out (
        id INTEGER PRIMARY KEY, uid TEXT NOT NULL UNIQUE CHECK (uid <> ''),
        name TEXT NOT NULL CHECK (name <> ''),
        name_key TEXT NOT NULL UNIQUE,
        substitute TEXT NOT NULL,
        out_on TEXT NOT NULL CHECK (out_on GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]' AND date(out_on) = out_on)
    ) STRICT
    ;
INSERT INTO "paint_out" VALUES(1,'n10','dark red','dark red','mid red','2026-03-01');
CREATE TABLE photo (
        id INTEGER PRIMARY KEY, uid TEXT NOT NULL UNIQUE CHECK (uid <> ''),
        file TEXT NOT NULL CHECK (file <> '' AND file NOT GLOB '*[^0-9a-z.]*'),
        unit_id INTEGER REFERENCES unit (id),
        model_id INTEGER REFERENCES model (id),
        step TEXT NOT NULL,
        width_pixels INTEGER NOT NULL CHECK (width_pixels > 0),
        height_pixels INTEGER NOT NULL CHECK (height_pixels > 0),
        note TEXT NOT NULL,
        taken_on TEXT NOT NULL CHECK (taken_on GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]' AND date(taken_on) = taken_on),
        CHECK (unit_id IS NOT NULL OR model_id IS NOT NULL)
    ) STRICT
    ;
INSERT INTO "photo" VALUES(1,'n16','0000000000000000000000000000000000000000000000000000000000000000.jpg',1,1,'cleaning',640,480,'before','2026-03-01');
CREATE TABLE rank_block (
        id INTEGER PRIMARY KEY,
        uid TEXT NOT NULL UNIQUE CHECK (uid <> ''),
        unit_id INTEGER NOT NULL REFERENCES unit (id),
        kind TEXT NOT NULL CHECK (kind IN ('filler', 'large model', 'multi-base')),
        file INTEGER NOT NULL CHECK (file >= 1),
        rank INTEGER NOT NULL CHECK (rank >= 1),
        files INTEGER NOT NULL CHECK (files >= 1),
        ranks INTEGER NOT NULL CHECK (ranks >= 1),
        models INTEGER NOT NULL CHECK (models BETWEEN 0 AND files * ranks),
        model_id INTEGER REFERENCES model (id),
        name TEXT NOT NULL
    ) STRICT
    ;
INSERT INTO "rank_block" VALUES(1,'n5',1,'filler',1,2,2,1,0,NULL,'a well''s rim');
CREATE TABLE rank_check (
        id INTEGER PRIMARY KEY,
        uid TEXT NOT NULL UNIQUE CHECK (uid <> ''),
        first INTEGER NOT NULL REFERENCES model (id),
        first_edge TEXT NOT NULL CHECK (first_edge IN ('front', 'right', 'back', 'left')),
        first_stem_mm INTEGER NOT NULL CHECK (first_stem_mm >= 0),
        second INTEGER NOT NULL REFERENCES model (id),
        second_edge TEXT NOT NULL CHECK (second_edge IN ('front', 'right', 'back', 'left')),
        second_stem_mm INTEGER NOT NULL CHECK (second_stem_mm >= 0),
        mm REAL NOT NULL CHECK (mm >= 0),
        base TEXT NOT NULL,
        checked_on TEXT NOT NULL CHECK (checked_on GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]' AND date(checked_on) = checked_on),
        CHECK (first < second),
        UNIQUE (first, first_edge, first_stem_mm, second, second_edge, second_stem_mm, base)
    ) STRICT
    ;
INSERT INTO "rank_check" VALUES(1,'n4',1,'right',0,2,'left',0,1.5,'25x25','2026-03-11');
CREATE TABLE rank_model (
        id INTEGER PRIMARY KEY,
        uid TEXT NOT NULL UNIQUE CHECK (uid <> ''),
        model_id INTEGER NOT NULL UNIQUE REFERENCES model (id),
        front TEXT NOT NULL,
        right TEXT NOT NULL,
        back TEXT NOT NULL,
        left TEXT NOT NULL,
        base TEXT NOT NULL,
        cuts TEXT NOT NULL,
        turns TEXT NOT NULL CHECK (turns IN ('', 'front', 'half', 'any')),
        stems TEXT NOT NULL,
        place TEXT NOT NULL,
        measured_on TEXT CHECK (measured_on IS NULL OR (measured_on GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]' AND date(measured_on) = measured_on))
    ) STRICT
    ;
INSERT INTO "rank_model" VALUES(1,'n3',1,'6 2 .','-4 -4 -1','0 0 0','2 . .','25x25','14,26','any','0,15','A1','2026-03-11');
CREATE TABLE rank_place (
        id INTEGER PRIMARY KEY,
        model_id INTEGER NOT NULL UNIQUE REFERENCES model (id),
        unit_id INTEGER NOT NULL REFERENCES unit (id),
        file INTEGER NOT NULL CHECK (file >= 1),
        rank INTEGER NOT NULL CHECK (rank >= 1),
        turn INTEGER NOT NULL CHECK (turn IN (0, 90, 180, 270)),
        stem_mm INTEGER NOT NULL CHECK (stem_mm >= 0),
        UNIQUE (unit_id, file, rank)
    ) STRICT
    ;
INSERT INTO "rank_place" VALUES(1,1,1,1,1,0,0);
INSERT INTO "rank_place" VALUES(2,2,1,2,1,180,15);
CREATE TABLE rank_rule (
        id INTEGER PRIMARY KEY,
        uid TEXT NOT NULL UNIQUE CHECK (uid <> ''),
        unit_id INTEGER NOT NULL UNIQUE REFERENCES unit (id),
        cuts TEXT NOT NULL,
        gap_mm REAL NOT NULL CHECK (gap_mm >= 0),
        margin_mm REAL NOT NULL CHECK (margin_mm >= 0),
        turns TEXT NOT NULL CHECK (turns IN ('front', 'half', 'any')),
        front_most_mm INTEGER CHECK (front_most_mm >= 0),
        least_models INTEGER CHECK (least_models >= 0),
        least_percent REAL CHECK (least_percent BETWEEN 0 AND 100)
    ) STRICT
    ;
INSERT INTO "rank_rule" VALUES(1,'n2',1,'14,26',0.5,1.0,'half',6,3,NULL);
CREATE TABLE recipe (
        id INTEGER PRIMARY KEY, uid TEXT NOT NULL UNIQUE CHECK (uid <> ''),
        name TEXT NOT NULL CHECK (name <> ''),
        name_key TEXT NOT NULL UNIQUE,
        note TEXT NOT NULL,
        added_on TEXT NOT NULL CHECK (added_on GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]' AND date(added_on) = added_on)
    ) STRICT
    ;
INSERT INTO "recipe" VALUES(1,'n1','Red cloaks','red cloaks','','2026-03-01');
INSERT INTO "recipe" VALUES(2,'n6','Blue cloaks','blue cloaks','','2026-03-01');
CREATE TABLE recipe_step (
        id INTEGER PRIMARY KEY, uid TEXT NOT NULL UNIQUE CHECK (uid <> ''),
        version_id INTEGER NOT NULL REFERENCES recipe_version (id),
        place INTEGER NOT NULL CHECK (place >= 1),
        area TEXT NOT NULL CHECK (area <> ''),
        technique TEXT NOT NULL,
        paint TEXT NOT NULL,
        mix TEXT NOT NULL,
        medium TEXT NOT NULL,
        tool TEXT NOT NULL,
        sheen TEXT NOT NULL,
        certainty TEXT NOT NULL CHECK (certainty IN ('sure', 'probable', 'guess')),
        swatch TEXT NOT NULL CHECK (swatch = '' OR (length(swatch) = 7 AND substr(swatch, 1, 1) = '#'
            AND substr(swatch, 2) NOT GLOB '*[^0-9a-f]*')),
        reminder TEXT NOT NULL,
        UNIQUE (version_id, place)
    ) STRICT
    ;
INSERT INTO "recipe_step" VALUES(1,'n3',1,1,'cloth','base','dark red','2:1','water','big brush','matt','probable','#7a1f1f','metals after');
INSERT INTO "recipe_step" VALUES(2,'n5',2,1,'cloth','base','mid red','','','','','sure','','');
CREATE TABLE recipe_use (
        id INTEGER PRIMARY KEY, uid TEXT NOT NULL UNIQUE CHECK (uid <> ''),
        version_id INTEGER NOT NULL REFERENCES recipe_version (id),
        unit_id INTEGER REFERENCES unit (id),
        army_id INTEGER REFERENCES army (id),
        used_on TEXT NOT NULL CHECK (used_on GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]' AND date(used_on) = used_on),
        CHECK ((unit_id IS NULL) <> (army_id IS NULL)),
        UNIQUE (version_id, unit_id, army_id)
    ) STRICT
    ;
INSERT INTO "recipe_use" VALUES(1,'n8',1,1,NULL,'2026-03-01');
INSERT INTO "recipe_use" VALUES(2,'n9',2,NULL,1,'2026-03-01');
CREATE TABLE recipe_version (
        id INTEGER PRIMARY KEY, uid TEXT NOT NULL UNIQUE CHECK (uid <> ''),
        recipe_id INTEGER NOT NULL REFERENCES recipe (id),
        number INTEGER NOT NULL CHECK (number >= 1),
        like_id INTEGER REFERENCES recipe_version (id),
        primer TEXT NOT NULL,
        note TEXT NOT NULL,
        made_on TEXT NOT NULL CHECK (made_on GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]' AND date(made_on) = made_on),
        UNIQUE (recipe_id, number)
    ) STRICT
    ;
INSERT INTO "recipe_version" VALUES(1,'n2',1,1,NULL,'black','first','2026-03-01');
INSERT INTO "recipe_version" VALUES(2,'n4',1,2,NULL,'black','redder','2026-03-01');
INSERT INTO "recipe_version" VALUES(3,'n7',2,1,1,'white','','2026-03-01');
CREATE TABLE role (
        id INTEGER PRIMARY KEY, uid TEXT NOT NULL UNIQUE CHECK (uid <> ''),
        unit_id INTEGER NOT NULL REFERENCES unit (id),
        name TEXT NOT NULL CHECK (name <> ''),
        kind TEXT NOT NULL,
        base TEXT NOT NULL,
        height_mm REAL CHECK (height_mm > 0),
        tags TEXT NOT NULL,
        model_id INTEGER UNIQUE REFERENCES model (id),
        stand_in TEXT NOT NULL CHECK (stand_in IN ('', 'stand-in', 'for good')),
        added_on TEXT NOT NULL CHECK (added_on GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]' AND date(added_on) = added_on)
    ) STRICT
    ;
INSERT INTO "role" VALUES(1,'n12',1,'standard bearer','','20x20',30.0,'banner',2,'for good','2026-03-01');
CREATE TABLE route_step (
        unit_id INTEGER NOT NULL REFERENCES unit (id),
        place INTEGER NOT NULL CHECK (place >= 1),
        step TEXT NOT NULL CHECK (step <> ''),
        PRIMARY KEY (unit_id, place)
    ) STRICT, WITHOUT ROWID
    ;
INSERT INTO "route_step" VALUES(1,1,'cleaning');
INSERT INTO "route_step" VALUES(1,2,'assembly');
INSERT INTO "route_step" VALUES(1,3,'base texture');
INSERT INTO "route_step" VALUES(1,4,'priming');
INSERT INTO "route_step" VALUES(1,5,'base colours');
INSERT INTO "route_step" VALUES(1,6,'shade');
INSERT INTO "route_step" VALUES(1,7,'layering');
INSERT INTO "route_step" VALUES(1,8,'highlights');
INSERT INTO "route_step" VALUES(1,9,'details');
INSERT INTO "route_step" VALUES(1,10,'base painting');
INSERT INTO "route_step" VALUES(1,11,'varnish');
INSERT INTO "route_step" VALUES(1,12,'tufts');
INSERT INTO "route_step" VALUES(2,1,'cleaning');
INSERT INTO "route_step" VALUES(2,2,'own step');
CREATE TABLE seal (
        table_name TEXT PRIMARY KEY,
        row_count INTEGER NOT NULL,
        digest INTEGER NOT NULL
    ) STRICT, WITHOUT ROWID
    ;
INSERT INTO "seal" VALUES('army',2,4991880355);
INSERT INTO "seal" VALUES('base_before',1,1581736405);
INSERT INTO "seal" VALUES('cure',1,3089959318);
INSERT INTO "seal" VALUES('deal',1,1429022418);
INSERT INTO "seal" VALUES('deal_model',1,96921040);
INSERT INTO "seal" VALUES('declared',2,1831413018);
INSERT INTO "seal" VALUES('dried',1,1322086067);
INSERT INTO "seal" VALUES('goal',1,1496961789);
INSERT INTO "seal" VALUES('goal_unit',1,2419752566);
INSERT INTO "seal" VALUES('journal_head',1,17196706);
INSERT INTO "seal" VALUES('keeping',1,1573620197);
INSERT INTO "seal" VALUES('lamp',1,2601738010);
INSERT INTO "seal" VALUES('lamp_rest',2,2686753480);
INSERT INTO "seal" VALUES('lead_free',1,3423235249);
INSERT INTO "seal" VALUES('line',2,3421337245);
INSERT INTO "seal" VALUES('line_model',4,11145034242);
INSERT INTO "seal" VALUES('list_target',1,30937230);
INSERT INTO "seal" VALUES('mark',3,2176383619);
INSERT INTO "seal" VALUES('model',7,13042538021);
INSERT INTO "seal" VALUES('own_step',1,916022663);
INSERT INTO "seal" VALUES('paint_out',1,1790550595);
INSERT INTO "seal" VALUES('photo',1,2044144742);
INSERT INTO "seal" VALUES('rank_block',1,2080132555);
INSERT INTO "seal" VALUES('rank_check',1,384210814);
INSERT INTO "seal" VALUES('rank_model',1,3745983165);
INSERT INTO "seal" VALUES('rank_place',2,4906478325);
INSERT INTO "seal" VALUES('rank_rule',1,865158512);
INSERT INTO "seal" VALUES('recipe',2,4740594917);
INSERT INTO "seal" VALUES('recipe_step',2,4676299897);
INSERT INTO "seal" VALUES('recipe_use',2,6369201394);
INSERT INTO "seal" VALUES('recipe_version',3,4508448296);
INSERT INTO "seal" VALUES('role',1,3730633060);
INSERT INTO "seal" VALUES('route_step',14,35925967938);
INSERT INTO "seal" VALUES('session',2,4359440617);
INSERT INTO "seal" VALUES('unit',2,7426627898);
CREATE TABLE session (
        id INTEGER PRIMARY KEY,
        uid TEXT NOT NULL UNIQUE CHECK (uid <> ''),
        date TEXT NOT NULL CHECK (date GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]' AND date(date) = date),
        label TEXT NOT NULL,
        start TEXT NOT NULL CHECK (start = '' OR start GLOB '[0-2][0-9]:[0-5][0-9]'),
        minutes REAL CHECK (minutes >= 0 AND minutes <= 1440),
        UNIQUE (date, label)
    ) STRICT
    ;
INSERT INTO "session" VALUES(1,'n12','2026-03-02','','',NULL);
INSERT INTO "session" VALUES(2,'n14','2026-03-03','','',NULL);
CREATE TABLE unit (
        id INTEGER PRIMARY KEY,
        uid TEXT NOT NULL UNIQUE CHECK (uid <> ''),
        army_id INTEGER NOT NULL REFERENCES army (id),
        name TEXT NOT NULL CHECK (name <> ''),
        name_key TEXT NOT NULL,
        kind TEXT NOT NULL,
        material TEXT NOT NULL,
        standard TEXT NOT NULL,
        base TEXT NOT NULL,
        files INTEGER CHECK (files >= 1),
        ranks INTEGER CHECK (ranks >= 1),
        points REAL CHECK (points >= 0),
        guess_minutes REAL CHECK (guess_minutes >= 0),
        goal_date TEXT CHECK (goal_date IS NULL OR goal_date GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]' AND date(goal_date) = goal_date),
        goal TEXT NOT NULL,
        place INTEGER,
        source TEXT NOT NULL,
        cost TEXT NOT NULL,
        note TEXT NOT NULL,
        finish_line TEXT NOT NULL,
        open_ended INTEGER NOT NULL CHECK (open_ended IN (0, 1)),
        added_on TEXT NOT NULL CHECK (added_on GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]' AND date(added_on) = added_on),
        UNIQUE (army_id, name_key)
    ) STRICT
    ;
INSERT INTO "unit" VALUES(1,'n2',1,'Spears','spears','infantry','plastic','table-top','25x25',2,2,80.5,NULL,'2026-05-01','a game',NULL,'','','','',0,'2026-03-01');
INSERT INTO "unit" VALUES(2,'n9',2,'🐉 ''quoted''','🐉 ''quoted''','monster','plastic','table-top','',NULL,NULL,NULL,NULL,NULL,'',NULL,'','','','own step',0,'2026-03-10');
CREATE UNIQUE INDEX "idx__sqlite_migrations_migration_set_name"
    ON "_sqlite_migrations" ("migration_set", "name");
CREATE INDEX line_session ON line (session_id);
CREATE INDEX line_unit ON line (unit_id, step);
CREATE INDEX line_model_model ON line_model (model_id);
CREATE INDEX mark_model ON mark (model_id);
CREATE INDEX change_row_change ON change_row (change_id);
CREATE TRIGGER army_insert AFTER insert ON army BEGIN INSERT INTO change_row (change_id, table_name, act, v0) VALUES ((SELECT open_change FROM journal_head), 'army', 'insert', NEW.id); END;
CREATE TRIGGER army_update AFTER update ON army BEGIN INSERT INTO change_row (change_id, table_name, act, v0, v1, v2, v3) VALUES ((SELECT open_change FROM journal_head), 'army', 'update', OLD.id, OLD.uid, OLD.name, OLD.name_key); END;
CREATE TRIGGER army_delete AFTER delete ON army BEGIN INSERT INTO change_row (change_id, table_name, act, v0, v1, v2, v3) VALUES ((SELECT open_change FROM journal_head), 'army', 'delete', OLD.id, OLD.uid, OLD.name, OLD.name_key); END;
CREATE TRIGGER unit_insert AFTER insert ON unit BEGIN INSERT INTO change_row (change_id, table_name, act, v0) VALUES ((SELECT open_change FROM journal_head), 'unit', 'insert', NEW.id); END;
CREATE TRIGGER unit_update AFTER update ON unit BEGIN INSERT INTO change_row (change_id, table_name, act, v0, v1, v2, v3, v4, v5, v6, v7, v8, v9, v10, v11, v12, v13, v14, v15, v16, v17, v18, v19, v20, v21) VALUES ((SELECT open_change FROM journal_head), 'unit', 'update', OLD.id, OLD.uid, OLD.army_id, OLD.name, OLD.name_key, OLD.kind, OLD.material, OLD.standard, OLD.base, OLD.files, OLD.ranks, OLD.points, OLD.guess_minutes, OLD.goal_date, OLD.goal, OLD.place, OLD.source, OLD.cost, OLD.note, OLD.finish_line, OLD.open_ended, OLD.added_on); END;
CREATE TRIGGER unit_delete AFTER delete ON unit BEGIN INSERT INTO change_row (change_id, table_name, act, v0, v1, v2, v3, v4, v5, v6, v7, v8, v9, v10, v11, v12, v13, v14, v15, v16, v17, v18, v19, v20, v21) VALUES ((SELECT open_change FROM journal_head), 'unit', 'delete', OLD.id, OLD.uid, OLD.army_id, OLD.name, OLD.name_key, OLD.kind, OLD.material, OLD.standard, OLD.base, OLD.files, OLD.ranks, OLD.points, OLD.guess_minutes, OLD.goal_date, OLD.goal, OLD.place, OLD.source, OLD.cost, OLD.note, OLD.finish_line, OLD.open_ended, OLD.added_on); END;
CREATE TRIGGER route_step_insert AFTER insert ON route_step BEGIN INSERT INTO change_row (change_id, table_name, act, v0, v1) VALUES ((SELECT open_change FROM journal_head), 'route_step', 'insert', NEW.unit_id, NEW.place); END;
CREATE TRIGGER route_step_update AFTER update ON route_step BEGIN INSERT INTO change_row (change_id, table_name, act, v0, v1, v2) VALUES ((SELECT open_change FROM journal_head), 'route_step', 'update', OLD.unit_id, OLD.place, OLD.step); END;
CREATE TRIGGER route_step_delete AFTER delete ON route_step BEGIN INSERT INTO change_row (change_id, table_name, act, v0, v1, v2) VALUES ((SELECT open_change FROM journal_head), 'route_step', 'delete', OLD.unit_id, OLD.place, OLD.step); END;
CREATE TRIGGER own_step_insert AFTER insert ON own_step BEGIN INSERT INTO change_row (change_id, table_name, act, v0) VALUES ((SELECT open_change FROM journal_head), 'own_step', 'insert', NEW.id); END;
CREATE TRIGGER own_step_update AFTER update ON own_step BEGIN INSERT INTO change_row (change_id, table_name, act, v0, v1, v2, v3, v4) VALUES ((SELECT open_change FROM journal_head), 'own_step', 'update', OLD.id, OLD.name, OLD.name_key, OLD.catalogue, OLD.wait_hours); END;
CREATE TRIGGER own_step_delete AFTER delete ON own_step BEGIN INSERT INTO change_row (change_id, table_name, act, v0, v1, v2, v3, v4) VALUES ((SELECT open_change FROM journal_head), 'own_step', 'delete', OLD.id, OLD.name, OLD.name_key, OLD.catalogue, OLD.wait_hours); END;
CREATE TRIGGER session_insert AFTER insert ON session BEGIN INSERT INTO change_row (change_id, table_name, act, v0) VALUES ((SELECT open_change FROM journal_head), 'session', 'insert', NEW.id); END;
CREATE TRIGGER session_update AFTER update ON session BEGIN INSERT INTO change_row (change_id, table_name, act, v0, v1, v2, v3, v4, v5) VALUES ((SELECT open_change FROM journal_head), 'session', 'update', OLD.id, OLD.uid, OLD.date, OLD.label, OLD.start, OLD.minutes); END;
CREATE TRIGGER session_delete AFTER delete ON session BEGIN INSERT INTO change_row (change_id, table_name, act, v0, v1, v2, v3, v4, v5) VALUES ((SELECT open_change FROM journal_head), 'session', 'delete', OLD.id, OLD.uid, OLD.date, OLD.label, OLD.start, OLD.minutes); END;
CREATE TRIGGER line_insert AFTER insert ON line BEGIN INSERT INTO change_row (change_id, table_name, act, v0) VALUES ((SELECT open_change FROM journal_head), 'line', 'insert', NEW.id); END;
CREATE TRIGGER line_update AFTER update ON line BEGIN INSERT INTO change_row (change_id, table_name, act, v0, v1, v2, v3, v4, v5, v6, v7, v8, v9, v10) VALUES ((SELECT open_change FROM journal_head), 'line', 'update', OLD.id, OLD.uid, OLD.session_id, OLD.unit_id, OLD.step, OLD.models, OLD.minutes, OLD.finished, OLD.guess_minutes, OLD.note, OLD.import_key); END;
CREATE TRIGGER line_delete AFTER delete ON line BEGIN INSERT INTO change_row (change_id, table_name, act, v0, v1, v2, v3, v4, v5, v6, v7, v8, v9, v10) VALUES ((SELECT open_change FROM journal_head), 'line', 'delete', OLD.id, OLD.uid, OLD.session_id, OLD.unit_id, OLD.step, OLD.models, OLD.minutes, OLD.finished, OLD.guess_minutes, OLD.note, OLD.import_key); END;
CREATE TRIGGER line_model_insert AFTER insert ON line_model BEGIN INSERT INTO change_row (change_id, table_name, act, v0, v1) VALUES ((SELECT open_change FROM journal_head), 'line_model', 'insert', NEW.line_id, NEW.model_id); END;
CREATE TRIGGER line_model_update AFTER update ON line_model BEGIN INSERT INTO change_row (change_id, table_name, act, v0, v1) VALUES ((SELECT open_change FROM journal_head), 'line_model', 'update', OLD.line_id, OLD.model_id); END;
CREATE TRIGGER line_model_delete AFTER delete ON line_model BEGIN INSERT INTO change_row (change_id, table_name, act, v0, v1) VALUES ((SELECT open_change FROM journal_head), 'line_model', 'delete', OLD.line_id, OLD.model_id); END;
CREATE TRIGGER mark_insert AFTER insert ON mark BEGIN INSERT INTO change_row (change_id, table_name, act, v0) VALUES ((SELECT open_change FROM journal_head), 'mark', 'insert', NEW.id); END;
CREATE TRIGGER mark_update AFTER update ON mark BEGIN INSERT INTO change_row (change_id, table_name, act, v0, v1, v2, v3, v4, v5) VALUES ((SELECT open_change FROM journal_head), 'mark', 'update', OLD.id, OLD.model_id, OLD.step, OLD.state, OLD.date, OLD.after_line); END;
CREATE TRIGGER mark_delete AFTER delete ON mark BEGIN INSERT INTO change_row (change_id, table_name, act, v0, v1, v2, v3, v4, v5) VALUES ((SELECT open_change FROM journal_head), 'mark', 'delete', OLD.id, OLD.model_id, OLD.step, OLD.state, OLD.date, OLD.after_line); END;
CREATE TRIGGER model_insert AFTER insert ON model BEGIN INSERT INTO change_row (change_id, table_name, act, v0) VALUES ((SELECT open_change FROM journal_head), 'model', 'insert', NEW.id); END;
CREATE TRIGGER model_update AFTER update ON model BEGIN INSERT INTO change_row (change_id, table_name, act, v0, v1, v2, v3, v4, v5, v6, v7, v8, v9, v10) VALUES ((SELECT open_change FROM journal_head), 'model', 'update', OLD.id, OLD.uid, OLD.unit_id, OLD.number, OLD.name, OLD.kind, OLD.note, OLD.added_on, OLD.left_on, OLD.left_how, OLD.part); END;
CREATE TRIGGER model_delete AFTER delete ON model BEGIN INSERT INTO change_row (change_id, table_name, act, v0, v1, v2, v3, v4, v5, v6, v7, v8, v9, v10) VALUES ((SELECT open_change FROM journal_head), 'model', 'delete', OLD.id, OLD.uid, OLD.unit_id, OLD.number, OLD.name, OLD.kind, OLD.note, OLD.added_on, OLD.left_on, OLD.left_how, OLD.part); END;
CREATE TRIGGER lamp_insert AFTER insert ON lamp BEGIN INSERT INTO change_row (change_id, table_name, act, v0) VALUES ((SELECT open_change FROM journal_head), 'lamp', 'insert', NEW.id); END;
CREATE TRIGGER lamp_update AFTER update ON lamp BEGIN INSERT INTO change_row (change_id, table_name, act, v0, v1) VALUES ((SELECT open_change FROM journal_head), 'lamp', 'update', OLD.id, OLD.began); END;
CREATE TRIGGER lamp_delete AFTER delete ON lamp BEGIN INSERT INTO change_row (change_id, table_name, act, v0, v1) VALUES ((SELECT open_change FROM journal_head), 'lamp', 'delete', OLD.id, OLD.began); END;
CREATE TRIGGER lamp_rest_insert AFTER insert ON lamp_rest BEGIN INSERT INTO change_row (change_id, table_name, act, v0) VALUES ((SELECT open_change FROM journal_head), 'lamp_rest', 'insert', NEW.id); END;
CREATE TRIGGER lamp_rest_update AFTER update ON lamp_rest BEGIN INSERT INTO change_row (change_id, table_name, act, v0, v1, v2) VALUES ((SELECT open_change FROM journal_head), 'lamp_rest', 'update', OLD.id, OLD.began, OLD.ended); END;
CREATE TRIGGER lamp_rest_delete AFTER delete ON lamp_rest BEGIN INSERT INTO change_row (change_id, table_name, act, v0, v1, v2) VALUES ((SELECT open_change FROM journal_head), 'lamp_rest', 'delete', OLD.id, OLD.began, OLD.ended); END;
CREATE INDEX goal_unit_by_unit ON goal_unit (unit_id);
CREATE TRIGGER declared_insert AFTER insert ON declared BEGIN INSERT INTO change_row (change_id, table_name, act, v0) VALUES ((SELECT open_change FROM journal_head), 'declared', 'insert', NEW.id); END;
CREATE TRIGGER declared_update AFTER update ON declared BEGIN INSERT INTO change_row (change_id, table_name, act, v0, v1, v2, v3, v4, v5, v6, v7, v8, v9) VALUES ((SELECT open_change FROM journal_head), 'declared', 'update', OLD.id, OLD.uid, OLD.kind, OLD.first, OLD.last, OLD.rule, OLD.without, OLD.minutes, OLD.note, OLD.said_on); END;
CREATE TRIGGER declared_delete AFTER delete ON declared BEGIN INSERT INTO change_row (change_id, table_name, act, v0, v1, v2, v3, v4, v5, v6, v7, v8, v9) VALUES ((SELECT open_change FROM journal_head), 'declared', 'delete', OLD.id, OLD.uid, OLD.kind, OLD.first, OLD.last, OLD.rule, OLD.without, OLD.minutes, OLD.note, OLD.said_on); END;
CREATE TRIGGER goal_insert AFTER insert ON goal BEGIN INSERT INTO change_row (change_id, table_name, act, v0) VALUES ((SELECT open_change FROM journal_head), 'goal', 'insert', NEW.id); END;
CREATE TRIGGER goal_update AFTER update ON goal BEGIN INSERT INTO change_row (change_id, table_name, act, v0, v1, v2, v3, v4, v5, v6, v7, v8) VALUES ((SELECT open_change FROM journal_head), 'goal', 'update', OLD.id, OLD.uid, OLD.name, OLD.name_key, OLD.date, OLD.models, OLD.points, OLD.least_models, OLD.said_on); END;
CREATE TRIGGER goal_delete AFTER delete ON goal BEGIN INSERT INTO change_row (change_id, table_name, act, v0, v1, v2, v3, v4, v5, v6, v7, v8) VALUES ((SELECT open_change FROM journal_head), 'goal', 'delete', OLD.id, OLD.uid, OLD.name, OLD.name_key, OLD.date, OLD.models, OLD.points, OLD.least_models, OLD.said_on); END;
CREATE TRIGGER goal_unit_insert AFTER insert ON goal_unit BEGIN INSERT INTO change_row (change_id, table_name, act, v0, v1) VALUES ((SELECT open_change FROM journal_head), 'goal_unit', 'insert', NEW.goal_id, NEW.unit_id); END;
CREATE TRIGGER goal_unit_update AFTER update ON goal_unit BEGIN INSERT INTO change_row (change_id, table_name, act, v0, v1) VALUES ((SELECT open_change FROM journal_head), 'goal_unit', 'update', OLD.goal_id, OLD.unit_id); END;
CREATE TRIGGER goal_unit_delete AFTER delete ON goal_unit BEGIN INSERT INTO change_row (change_id, table_name, act, v0, v1) VALUES ((SELECT open_change FROM journal_head), 'goal_unit', 'delete', OLD.goal_id, OLD.unit_id); END;
CREATE INDEX rank_block_unit ON rank_block (unit_id);
CREATE INDEX rank_check_second ON rank_check (second);
CREATE INDEX base_before_unit ON base_before (unit_id);
CREATE TRIGGER rank_rule_insert AFTER insert ON rank_rule BEGIN INSERT INTO change_row (change_id, table_name, act, v0) VALUES ((SELECT open_change FROM journal_head), 'rank_rule', 'insert', NEW.id); END;
CREATE TRIGGER rank_rule_update AFTER update ON rank_rule BEGIN INSERT INTO change_row (change_id, table_name, act, v0, v1, v2, v3, v4, v5, v6, v7, v8, v9) VALUES ((SELECT open_change FROM journal_head), 'rank_rule', 'update', OLD.id, OLD.uid, OLD.unit_id, OLD.cuts, OLD.gap_mm, OLD.margin_mm, OLD.turns, OLD.front_most_mm, OLD.least_models, OLD.least_percent); END;
CREATE TRIGGER rank_rule_delete AFTER delete ON rank_rule BEGIN INSERT INTO change_row (change_id, table_name, act, v0, v1, v2, v3, v4, v5, v6, v7, v8, v9) VALUES ((SELECT open_change FROM journal_head), 'rank_rule', 'delete', OLD.id, OLD.uid, OLD.unit_id, OLD.cuts, OLD.gap_mm, OLD.margin_mm, OLD.turns, OLD.front_most_mm, OLD.least_models, OLD.least_percent); END;
CREATE TRIGGER rank_model_insert AFTER insert ON rank_model BEGIN INSERT INTO change_row (change_id, table_name, act, v0) VALUES ((SELECT open_change FROM journal_head), 'rank_model', 'insert', NEW.id); END;
CREATE TRIGGER rank_model_update AFTER update ON rank_model BEGIN INSERT INTO change_row (change_id, table_name, act, v0, v1, v2, v3, v4, v5, v6, v7, v8, v9, v10, v11, v12) VALUES ((SELECT open_change FROM journal_head), 'rank_model', 'update', OLD.id, OLD.uid, OLD.model_id, OLD.front, OLD.right, OLD.back, OLD.left, OLD.base, OLD.cuts, OLD.turns, OLD.stems, OLD.place, OLD.measured_on); END;
CREATE TRIGGER rank_model_delete AFTER delete ON rank_model BEGIN INSERT INTO change_row (change_id, table_name, act, v0, v1, v2, v3, v4, v5, v6, v7, v8, v9, v10, v11, v12) VALUES ((SELECT open_change FROM journal_head), 'rank_model', 'delete', OLD.id, OLD.uid, OLD.model_id, OLD.front, OLD.right, OLD.back, OLD.left, OLD.base, OLD.cuts, OLD.turns, OLD.stems, OLD.place, OLD.measured_on); END;
CREATE TRIGGER rank_block_insert AFTER insert ON rank_block BEGIN INSERT INTO change_row (change_id, table_name, act, v0) VALUES ((SELECT open_change FROM journal_head), 'rank_block', 'insert', NEW.id); END;
CREATE TRIGGER rank_block_update AFTER update ON rank_block BEGIN INSERT INTO change_row (change_id, table_name, act, v0, v1, v2, v3, v4, v5, v6, v7, v8, v9, v10) VALUES ((SELECT open_change FROM journal_head), 'rank_block', 'update', OLD.id, OLD.uid, OLD.unit_id, OLD.kind, OLD.file, OLD.rank, OLD.files, OLD.ranks, OLD.models, OLD.model_id, OLD.name); END;
CREATE TRIGGER rank_block_delete AFTER delete ON rank_block BEGIN INSERT INTO change_row (change_id, table_name, act, v0, v1, v2, v3, v4, v5, v6, v7, v8, v9, v10) VALUES ((SELECT open_change FROM journal_head), 'rank_block', 'delete', OLD.id, OLD.uid, OLD.unit_id, OLD.kind, OLD.file, OLD.rank, OLD.files, OLD.ranks, OLD.models, OLD.model_id, OLD.name); END;
CREATE TRIGGER rank_place_insert AFTER insert ON rank_place BEGIN INSERT INTO change_row (change_id, table_name, act, v0) VALUES ((SELECT open_change FROM journal_head), 'rank_place', 'insert', NEW.id); END;
CREATE TRIGGER rank_place_update AFTER update ON rank_place BEGIN INSERT INTO change_row (change_id, table_name, act, v0, v1, v2, v3, v4, v5, v6) VALUES ((SELECT open_change FROM journal_head), 'rank_place', 'update', OLD.id, OLD.model_id, OLD.unit_id, OLD.file, OLD.rank, OLD.turn, OLD.stem_mm); END;
CREATE TRIGGER rank_place_delete AFTER delete ON rank_place BEGIN INSERT INTO change_row (change_id, table_name, act, v0, v1, v2, v3, v4, v5, v6) VALUES ((SELECT open_change FROM journal_head), 'rank_place', 'delete', OLD.id, OLD.model_id, OLD.unit_id, OLD.file, OLD.rank, OLD.turn, OLD.stem_mm); END;
CREATE TRIGGER rank_check_insert AFTER insert ON rank_check BEGIN INSERT INTO change_row (change_id, table_name, act, v0) VALUES ((SELECT open_change FROM journal_head), 'rank_check', 'insert', NEW.id); END;
CREATE TRIGGER rank_check_update AFTER update ON rank_check BEGIN INSERT INTO change_row (change_id, table_name, act, v0, v1, v2, v3, v4, v5, v6, v7, v8, v9, v10) VALUES ((SELECT open_change FROM journal_head), 'rank_check', 'update', OLD.id, OLD.uid, OLD.first, OLD.first_edge, OLD.first_stem_mm, OLD.second, OLD.second_edge, OLD.second_stem_mm, OLD.mm, OLD.base, OLD.checked_on); END;
CREATE TRIGGER rank_check_delete AFTER delete ON rank_check BEGIN INSERT INTO change_row (change_id, table_name, act, v0, v1, v2, v3, v4, v5, v6, v7, v8, v9, v10) VALUES ((SELECT open_change FROM journal_head), 'rank_check', 'delete', OLD.id, OLD.uid, OLD.first, OLD.first_edge, OLD.first_stem_mm, OLD.second, OLD.second_edge, OLD.second_stem_mm, OLD.mm, OLD.base, OLD.checked_on); END;
CREATE TRIGGER base_before_insert AFTER insert ON base_before BEGIN INSERT INTO change_row (change_id, table_name, act, v0) VALUES ((SELECT open_change FROM journal_head), 'base_before', 'insert', NEW.id); END;
CREATE TRIGGER base_before_update AFTER update ON base_before BEGIN INSERT INTO change_row (change_id, table_name, act, v0, v1, v2, v3, v4) VALUES ((SELECT open_change FROM journal_head), 'base_before', 'update', OLD.id, OLD.uid, OLD.unit_id, OLD.base, OLD.until); END;
CREATE TRIGGER base_before_delete AFTER delete ON base_before BEGIN INSERT INTO change_row (change_id, table_name, act, v0, v1, v2, v3, v4) VALUES ((SELECT open_change FROM journal_head), 'base_before', 'delete', OLD.id, OLD.uid, OLD.unit_id, OLD.base, OLD.until); END;
CREATE INDEX recipe_use_unit ON recipe_use (unit_id);
CREATE INDEX role_unit ON role (unit_id);
CREATE INDEX deal_model_model ON deal_model (model_id);
CREATE INDEX photo_unit ON photo (unit_id);
CREATE INDEX photo_model ON photo (model_id);
CREATE INDEX cure_unit ON cure (unit_id);
CREATE TRIGGER recipe_insert AFTER insert ON recipe BEGIN INSERT INTO change_row (change_id, table_name, act, v0) VALUES ((SELECT open_change FROM journal_head), 'recipe', 'insert', NEW.id); END;
CREATE TRIGGER recipe_update AFTER update ON recipe BEGIN INSERT INTO change_row (change_id, table_name, act, v0, v1, v2, v3, v4, v5) VALUES ((SELECT open_change FROM journal_head), 'recipe', 'update', OLD.id, OLD.uid, OLD.name, OLD.name_key, OLD.note, OLD.added_on); END;
CREATE TRIGGER recipe_delete AFTER delete ON recipe BEGIN INSERT INTO change_row (change_id, table_name, act, v0, v1, v2, v3, v4, v5) VALUES ((SELECT open_change FROM journal_head), 'recipe', 'delete', OLD.id, OLD.uid, OLD.name, OLD.name_key, OLD.note, OLD.added_on); END;
CREATE TRIGGER recipe_version_insert AFTER insert ON recipe_version BEGIN INSERT INTO change_row (change_id, table_name, act, v0) VALUES ((SELECT open_change FROM journal_head), 'recipe_version', 'insert', NEW.id); END;
CREATE TRIGGER recipe_version_update AFTER update ON recipe_version BEGIN INSERT INTO change_row (change_id, table_name, act, v0, v1, v2, v3, v4, v5, v6, v7) VALUES ((SELECT open_change FROM journal_head), 'recipe_version', 'update', OLD.id, OLD.uid, OLD.recipe_id, OLD.number, OLD.like_id, OLD.primer, OLD.note, OLD.made_on); END;
CREATE TRIGGER recipe_version_delete AFTER delete ON recipe_version BEGIN INSERT INTO change_row (change_id, table_name, act, v0, v1, v2, v3, v4, v5, v6, v7) VALUES ((SELECT open_change FROM journal_head), 'recipe_version', 'delete', OLD.id, OLD.uid, OLD.recipe_id, OLD.number, OLD.like_id, OLD.primer, OLD.note, OLD.made_on); END;
CREATE TRIGGER recipe_step_insert AFTER insert ON recipe_step BEGIN INSERT INTO change_row (change_id, table_name, act, v0) VALUES ((SELECT open_change FROM journal_head), 'recipe_step', 'insert', NEW.id); END;
CREATE TRIGGER recipe_step_update AFTER update ON recipe_step BEGIN INSERT INTO change_row (change_id, table_name, act, v0, v1, v2, v3, v4, v5, v6, v7, v8, v9, v10, v11, v12, v13) VALUES ((SELECT open_change FROM journal_head), 'recipe_step', 'update', OLD.id, OLD.uid, OLD.version_id, OLD.place, OLD.area, OLD.technique, OLD.paint, OLD.mix, OLD.medium, OLD.tool, OLD.sheen, OLD.certainty, OLD.swatch, OLD.reminder); END;
CREATE TRIGGER recipe_step_delete AFTER delete ON recipe_step BEGIN INSERT INTO change_row (change_id, table_name, act, v0, v1, v2, v3, v4, v5, v6, v7, v8, v9, v10, v11, v12, v13) VALUES ((SELECT open_change FROM journal_head), 'recipe_step', 'delete', OLD.id, OLD.uid, OLD.version_id, OLD.place, OLD.area, OLD.technique, OLD.paint, OLD.mix, OLD.medium, OLD.tool, OLD.sheen, OLD.certainty, OLD.swatch, OLD.reminder); END;
CREATE TRIGGER recipe_use_insert AFTER insert ON recipe_use BEGIN INSERT INTO change_row (change_id, table_name, act, v0) VALUES ((SELECT open_change FROM journal_head), 'recipe_use', 'insert', NEW.id); END;
CREATE TRIGGER recipe_use_update AFTER update ON recipe_use BEGIN INSERT INTO change_row (change_id, table_name, act, v0, v1, v2, v3, v4, v5) VALUES ((SELECT open_change FROM journal_head), 'recipe_use', 'update', OLD.id, OLD.uid, OLD.version_id, OLD.unit_id, OLD.army_id, OLD.used_on); END;
CREATE TRIGGER recipe_use_delete AFTER delete ON recipe_use BEGIN INSERT INTO change_row (change_id, table_name, act, v0, v1, v2, v3, v4, v5) VALUES ((SELECT open_change FROM journal_head), 'recipe_use', 'delete', OLD.id, OLD.uid, OLD.version_id, OLD.unit_id, OLD.army_id, OLD.used_on); END;
CREATE TRIGGER paint_out_insert AFTER insert ON paint_out BEGIN INSERT INTO change_row (change_id, table_name, act, v0) VALUES ((SELECT open_change FROM journal_head), 'paint_out', 'insert', NEW.id); END;
CREATE TRIGGER paint_out_update AFTER update ON paint_out BEGIN INSERT INTO change_row (change_id, table_name, act, v0, v1, v2, v3, v4, v5) VALUES ((SELECT open_change FROM journal_head), 'paint_out', 'update', OLD.id, OLD.uid, OLD.name, OLD.name_key, OLD.substitute, OLD.out_on); END;
CREATE TRIGGER paint_out_delete AFTER delete ON paint_out BEGIN INSERT INTO change_row (change_id, table_name, act, v0, v1, v2, v3, v4, v5) VALUES ((SELECT open_change FROM journal_head), 'paint_out', 'delete', OLD.id, OLD.uid, OLD.name, OLD.name_key, OLD.substitute, OLD.out_on); END;
CREATE TRIGGER keeping_insert AFTER insert ON keeping BEGIN INSERT INTO change_row (change_id, table_name, act, v0) VALUES ((SELECT open_change FROM journal_head), 'keeping', 'insert', NEW.id); END;
CREATE TRIGGER keeping_update AFTER update ON keeping BEGIN INSERT INTO change_row (change_id, table_name, act, v0, v1, v2, v3, v4, v5, v6, v7, v8) VALUES ((SELECT open_change FROM journal_head), 'keeping', 'update', OLD.id, OLD.uid, OLD.model_id, OLD.height_mm, OLD.material, OLD.base, OLD.state, OLD.place, OLD.tags); END;
CREATE TRIGGER keeping_delete AFTER delete ON keeping BEGIN INSERT INTO change_row (change_id, table_name, act, v0, v1, v2, v3, v4, v5, v6, v7, v8) VALUES ((SELECT open_change FROM journal_head), 'keeping', 'delete', OLD.id, OLD.uid, OLD.model_id, OLD.height_mm, OLD.material, OLD.base, OLD.state, OLD.place, OLD.tags); END;
CREATE TRIGGER role_insert AFTER insert ON role BEGIN INSERT INTO change_row (change_id, table_name, act, v0) VALUES ((SELECT open_change FROM journal_head), 'role', 'insert', NEW.id); END;
CREATE TRIGGER role_update AFTER update ON role BEGIN INSERT INTO change_row (change_id, table_name, act, v0, v1, v2, v3, v4, v5, v6, v7, v8, v9, v10) VALUES ((SELECT open_change FROM journal_head), 'role', 'update', OLD.id, OLD.uid, OLD.unit_id, OLD.name, OLD.kind, OLD.base, OLD.height_mm, OLD.tags, OLD.model_id, OLD.stand_in, OLD.added_on); END;
CREATE TRIGGER role_delete AFTER delete ON role BEGIN INSERT INTO change_row (change_id, table_name, act, v0, v1, v2, v3, v4, v5, v6, v7, v8, v9, v10) VALUES ((SELECT open_change FROM journal_head), 'role', 'delete', OLD.id, OLD.uid, OLD.unit_id, OLD.name, OLD.kind, OLD.base, OLD.height_mm, OLD.tags, OLD.model_id, OLD.stand_in, OLD.added_on); END;
CREATE TRIGGER deal_insert AFTER insert ON deal BEGIN INSERT INTO change_row (change_id, table_name, act, v0) VALUES ((SELECT open_change FROM journal_head), 'deal', 'insert', NEW.id); END;
CREATE TRIGGER deal_update AFTER update ON deal BEGIN INSERT INTO change_row (change_id, table_name, act, v0, v1, v2, v3, v4, v5, v6, v7, v8, v9) VALUES ((SELECT open_change FROM journal_head), 'deal', 'update', OLD.id, OLD.uid, OLD.how, OLD.whom, OLD.amount, OLD.currency, OLD.postage, OLD.exchange, OLD.note, OLD.day); END;
CREATE TRIGGER deal_delete AFTER delete ON deal BEGIN INSERT INTO change_row (change_id, table_name, act, v0, v1, v2, v3, v4, v5, v6, v7, v8, v9) VALUES ((SELECT open_change FROM journal_head), 'deal', 'delete', OLD.id, OLD.uid, OLD.how, OLD.whom, OLD.amount, OLD.currency, OLD.postage, OLD.exchange, OLD.note, OLD.day); END;
CREATE TRIGGER deal_model_insert AFTER insert ON deal_model BEGIN INSERT INTO change_row (change_id, table_name, act, v0) VALUES ((SELECT open_change FROM journal_head), 'deal_model', 'insert', NEW.id); END;
CREATE TRIGGER deal_model_update AFTER update ON deal_model BEGIN INSERT INTO change_row (change_id, table_name, act, v0, v1, v2, v3) VALUES ((SELECT open_change FROM journal_head), 'deal_model', 'update', OLD.id, OLD.uid, OLD.deal_id, OLD.model_id); END;
CREATE TRIGGER deal_model_delete AFTER delete ON deal_model BEGIN INSERT INTO change_row (change_id, table_name, act, v0, v1, v2, v3) VALUES ((SELECT open_change FROM journal_head), 'deal_model', 'delete', OLD.id, OLD.uid, OLD.deal_id, OLD.model_id); END;
CREATE TRIGGER list_target_insert AFTER insert ON list_target BEGIN INSERT INTO change_row (change_id, table_name, act, v0) VALUES ((SELECT open_change FROM journal_head), 'list_target', 'insert', NEW.id); END;
CREATE TRIGGER list_target_update AFTER update ON list_target BEGIN INSERT INTO change_row (change_id, table_name, act, v0, v1, v2, v3) VALUES ((SELECT open_change FROM journal_head), 'list_target', 'update', OLD.id, OLD.uid, OLD.army_id, OLD.points); END;
CREATE TRIGGER list_target_delete AFTER delete ON list_target BEGIN INSERT INTO change_row (change_id, table_name, act, v0, v1, v2, v3) VALUES ((SELECT open_change FROM journal_head), 'list_target', 'delete', OLD.id, OLD.uid, OLD.army_id, OLD.points); END;
CREATE TRIGGER photo_insert AFTER insert ON photo BEGIN INSERT INTO change_row (change_id, table_name, act, v0) VALUES ((SELECT open_change FROM journal_head), 'photo', 'insert', NEW.id); END;
CREATE TRIGGER photo_update AFTER update ON photo BEGIN INSERT INTO change_row (change_id, table_name, act, v0, v1, v2, v3, v4, v5, v6, v7, v8, v9) VALUES ((SELECT open_change FROM journal_head), 'photo', 'update', OLD.id, OLD.uid, OLD.file, OLD.unit_id, OLD.model_id, OLD.step, OLD.width_pixels, OLD.height_pixels, OLD.note, OLD.taken_on); END;
CREATE TRIGGER photo_delete AFTER delete ON photo BEGIN INSERT INTO change_row (change_id, table_name, act, v0, v1, v2, v3, v4, v5, v6, v7, v8, v9) VALUES ((SELECT open_change FROM journal_head), 'photo', 'delete', OLD.id, OLD.uid, OLD.file, OLD.unit_id, OLD.model_id, OLD.step, OLD.width_pixels, OLD.height_pixels, OLD.note, OLD.taken_on); END;
CREATE TRIGGER cure_insert AFTER insert ON cure BEGIN INSERT INTO change_row (change_id, table_name, act, v0) VALUES ((SELECT open_change FROM journal_head), 'cure', 'insert', NEW.id); END;
CREATE TRIGGER cure_update AFTER update ON cure BEGIN INSERT INTO change_row (change_id, table_name, act, v0, v1, v2, v3, v4, v5, v6, v7, v8) VALUES ((SELECT open_change FROM journal_head), 'cure', 'update', OLD.id, OLD.uid, OLD.what, OLD.unit_id, OLD.begun_at, OLD.low_hours, OLD.usual_hours, OLD.high_hours, OLD.ended_at); END;
CREATE TRIGGER cure_delete AFTER delete ON cure BEGIN INSERT INTO change_row (change_id, table_name, act, v0, v1, v2, v3, v4, v5, v6, v7, v8) VALUES ((SELECT open_change FROM journal_head), 'cure', 'delete', OLD.id, OLD.uid, OLD.what, OLD.unit_id, OLD.begun_at, OLD.low_hours, OLD.usual_hours, OLD.high_hours, OLD.ended_at); END;
CREATE TRIGGER dried_insert AFTER insert ON dried BEGIN INSERT INTO change_row (change_id, table_name, act, v0) VALUES ((SELECT open_change FROM journal_head), 'dried', 'insert', NEW.id); END;
CREATE TRIGGER dried_update AFTER update ON dried BEGIN INSERT INTO change_row (change_id, table_name, act, v0, v1, v2, v3) VALUES ((SELECT open_change FROM journal_head), 'dried', 'update', OLD.id, OLD.uid, OLD.line_id, OLD.dry_at); END;
CREATE TRIGGER dried_delete AFTER delete ON dried BEGIN INSERT INTO change_row (change_id, table_name, act, v0, v1, v2, v3) VALUES ((SELECT open_change FROM journal_head), 'dried', 'delete', OLD.id, OLD.uid, OLD.line_id, OLD.dry_at); END;
CREATE TRIGGER lead_free_insert AFTER insert ON lead_free BEGIN INSERT INTO change_row (change_id, table_name, act, v0) VALUES ((SELECT open_change FROM journal_head), 'lead_free', 'insert', NEW.id); END;
CREATE TRIGGER lead_free_update AFTER update ON lead_free BEGIN INSERT INTO change_row (change_id, table_name, act, v0, v1, v2, v3) VALUES ((SELECT open_change FROM journal_head), 'lead_free', 'update', OLD.id, OLD.uid, OLD.unit_id, OLD.said_on); END;
CREATE TRIGGER lead_free_delete AFTER delete ON lead_free BEGIN INSERT INTO change_row (change_id, table_name, act, v0, v1, v2, v3) VALUES ((SELECT open_change FROM journal_head), 'lead_free', 'delete', OLD.id, OLD.uid, OLD.unit_id, OLD.said_on); END;
COMMIT;
