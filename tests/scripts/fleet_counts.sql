-- Counts per link and per cause from the rows of `weephole jobs export`, in portable SQL: common table expressions, window
-- functions, CASE and POWER, nothing else. It expects one table, job_rows, with a column per field of the rows.
--
-- Of copies of one job (same root) the one closed last counts. :now and :half_life_days are the instant from which age
-- counts (seconds since 1970) and the days in which a job loses half its weight; a very long half-life means none.

-- name: links
WITH newest AS (
  SELECT root, job,
         ROW_NUMBER() OVER (PARTITION BY root ORDER BY closed DESC, job DESC) AS place,
         POWER(0.5, CASE WHEN closed < :now THEN (:now - closed) / 86400.0 ELSE 0.0 END / :half_life_days) AS weight
  FROM job_rows
  WHERE row = 'cause'
),
seen AS (
  SELECT w.finding, w.parent, w.yes, w.present, w.rival, w.others, w.noticed, w.strength, n.weight,
         CASE WHEN w.yes THEN 1.0 - (1.0 - w.others) * (1.0 - w.present * w.strength * w.noticed)
              ELSE 1.0 - w.present * w.strength * w.noticed END AS likely,
         CASE WHEN w.yes THEN w.present * (1.0 - (1.0 - w.others) * (1.0 - w.strength * w.noticed))
              ELSE w.present * (1.0 - w.strength * w.noticed) END AS there,
         CASE WHEN w.yes THEN w.present * w.strength * (1.0 - (1.0 - w.others) * (1.0 - w.noticed))
              ELSE w.present * w.strength * (1.0 - w.noticed) END AS shown
  FROM job_rows AS w
  JOIN newest AS n ON n.root = w.root AND n.job = w.job AND n.place = 1
  WHERE w.row = 'witness'
)
SELECT finding, parent,
       COUNT(*) AS asked,
       SUM(CASE WHEN yes THEN 1 ELSE 0 END) AS yes,
       SUM(CASE WHEN yes AND present >= 0.95 AND rival <= 0.05 THEN 1 ELSE 0 END) AS clear_yes,
       SUM(CASE WHEN NOT yes AND present >= 0.95 AND rival <= 0.05 THEN 1 ELSE 0 END) AS clear_no,
       SUM(weight * shown / likely) AS showed,
       SUM(weight * (there - shown) / likely) AS silent
FROM seen
GROUP BY finding, parent
ORDER BY finding, parent;

-- name: shares
WITH newest AS (
  SELECT family, cause, root,
         ROW_NUMBER() OVER (PARTITION BY root ORDER BY closed DESC, job DESC) AS place,
         POWER(0.5, CASE WHEN closed < :now THEN (:now - closed) / 86400.0 ELSE 0.0 END / :half_life_days) AS weight
  FROM job_rows
  WHERE row = 'cause'
),
family_jobs AS (
  SELECT family, COUNT(*) AS jobs, SUM(weight) AS weighed FROM newest WHERE place = 1 GROUP BY family
)
SELECT n.family, n.cause,
       COUNT(*) AS confirmed,
       MAX(f.jobs) AS jobs,
       SUM(n.weight) AS weighed,
       MAX(f.weighed) AS weighed_jobs
FROM newest AS n
JOIN family_jobs AS f ON f.family = n.family
WHERE n.place = 1
GROUP BY n.family, n.cause
ORDER BY n.family, n.cause;
