-- All that is published over many farms, in one query. $findings, $bulls and $days are lists of
-- Parquet files: of each farm what was found up to its last day, its bulls on that day, and its
-- bulls on its last day of each week. $least: how many bulls a group must have to be told of.
WITH
lifts AS (
    -- A foot lifted once. Neither a farm's name nor a tag holds a line break: both were made plain.
    SELECT farm, lift, any_value(farm || chr(10) || bull) AS who, any_value(foot) AS foot,
        coalesce(any_value(breed), '') AS breed, any_value(age) AS age,
        CAST(year(any_value(lifted)) AS VARCHAR) AS year, count(code) > 0 AS found,
        count(DISTINCT claw) FILTER (claw <> 'skin') AS claws
    FROM read_parquet($findings, hive_partitioning = false) GROUP BY farm, lift
),
bulls AS (
    SELECT farm, farm || chr(10) || bull AS who, status = 'GO' AS go, coalesce(breed, '') AS breed, age
    FROM read_parquet($bulls, hive_partitioning = false)
),
breeds AS (
    -- Without regard to case, by the name that most bulls have it under.
    SELECT lower(breed) AS key, first(breed ORDER BY bulls DESC, breed) AS name FROM (
        SELECT breed, count(DISTINCT who) AS bulls FROM (
            SELECT who, breed FROM lifts UNION ALL SELECT who, breed FROM bulls
        ) GROUP BY breed
    ) GROUP BY key
),
parted AS (
    -- One row a bull in each group that all that was lifted, and all bulls, are parted into: of how
    -- many feet, claws or bulls of his, how many count.
    SELECT 'lifts' AS part, 'foot' AS sort, foot AS value, who, sum(found::INT) AS n, count(*) AS total
    FROM lifts GROUP BY ALL
    UNION ALL
    SELECT 'lifts', 'year', year, who, sum(found::INT), count(*) FROM lifts GROUP BY ALL
    UNION ALL
    SELECT 'lifts', 'age', age, who, sum(claws), 2 * count(*) FROM lifts GROUP BY ALL
    UNION ALL
    SELECT 'lifts', 'breed', name, who, sum(claws), 2 * count(*)
    FROM lifts JOIN breeds ON lower(breed) = key GROUP BY ALL
    UNION ALL
    SELECT 'go', 'farm', farm, who, go::INT, 1 FROM bulls
    UNION ALL
    SELECT 'go', 'breed', name, who, go::INT, 1 FROM bulls JOIN breeds ON lower(breed) = key
    UNION ALL
    SELECT 'go', 'age', age, who, go::INT, 1 FROM bulls
    UNION ALL
    SELECT 'go', 'week', strftime("on", '%G-W%V'), farm || chr(10) || bull, (status = 'GO')::INT, 1
    FROM read_parquet($days, hive_partitioning = false)
),
sizes AS (SELECT part, sort, value, count(*) AS bulls FROM parted GROUP BY ALL),
small AS (
    SELECT part, sort, count(DISTINCT who) AS bulls
    FROM parted JOIN sizes USING (part, sort, value) WHERE sizes.bulls < $least GROUP BY ALL
),
joined AS (
    -- Where the small ones together are still small, the next larger group goes with them: else what
    -- they are could be had by taking the others from the whole.
    SELECT part, sort, first(value ORDER BY bulls, value) AS value FROM sizes
    WHERE bulls >= $least AND (part, sort) IN (SELECT (part, sort) FROM small WHERE bulls < $least)
    GROUP BY part, sort
),
named AS (
    SELECT part, sort, value, CASE WHEN sizes.bulls < $least OR joined.value IS NOT NULL
        THEN NULL ELSE value END AS label
    FROM sizes LEFT JOIN joined USING (part, sort, value)
),
grouped AS (
    SELECT part, sort, label, who, sum(n) AS n, sum(total) AS total
    FROM parted JOIN named USING (part, sort, value) GROUP BY ALL
),
bore AS (
    SELECT DISTINCT farm, lift, farm || chr(10) || bull AS who, claw, code,
        CASE WHEN claw = 'skin' THEN 'skin ' ELSE '' END || coalesce(zone::VARCHAR, 'not said') AS zone
    FROM read_parquet($findings, hive_partitioning = false) WHERE code IS NOT NULL
),
hits AS (
    SELECT DISTINCT 'code' AS sort, code AS value, who, farm, lift, '' AS claw FROM bore UNION ALL
    SELECT DISTINCT 'claw', claw, who, farm, lift, '' FROM bore UNION ALL
    SELECT DISTINCT 'zone', zone, who, farm, lift, claw FROM bore
)
SELECT part, sort, label, sum(n) AS n, sum(total) AS total, count(*) FILTER (n > 0) AS hit, count(*) AS bulls
FROM grouped GROUP BY ALL
UNION ALL
SELECT 'found', sort, value, count(*), 0, count(DISTINCT who), 0 FROM hits GROUP BY ALL
UNION ALL
SELECT 'all', 'feet', NULL, sum(found::INT), count(*), count(DISTINCT who) FILTER (found),
    count(DISTINCT who) FROM lifts
UNION ALL
SELECT 'all', 'bulls', NULL, sum(go::INT), count(*), sum(go::INT), count(*) FROM bulls
