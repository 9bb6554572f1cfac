//! Exercises, and the landing and push of every contact.
//!
//! A contact is told by two physical numbers. The **landing** is the closing
//! speed along the leg at touchdown and the energy each leg must take up: the
//! dose that sessions and weeks add up, by kind of contact and never across
//! kinds. The **push** is the mean force over the contact: with the contact
//! time it tells quality. A timed contact uses its own times, an untimed one
//! the usual times of its exercise and the estimated speed of its run-in;
//! measuring replaces defaults and changes nothing else.
//!
//! * [`constants`]: gravity and the defaults that are not of one exercise.
//! * [`ballistics`]: falls and flights.
//! * [`approach`]: the speed of a run-in.
//! * [`force`]: mean force, peak from times, reactive strength.
//! * [`spring`]: stiffness from contact and flight times.
//! * [`performed`]: a set as it was done, and the athlete who did it.
//! * [`contact`]: landing and push of each contact of a repetition.
//! * [`unfold`]: each number of a contact with its inputs, formula, source and uncertainty.
//! * [`likeness`]: an exercise beside an event, part by part.
//! * [`session`]: totals by kind and leg, and session-RPE.
//! * [`series`]: loads day by day: sums, averages, monotony, ratios.
//! * [`course`]: an athlete's days, with their weeks kept up.
//! * [`rest`]: how long a set takes, and the rest after it.
//! * [`rule`]: the lines by which training is looked at, and who drew them.
//! * [`guard`]: what speaks against a set before it is done.
//! * [`spike`]: what rose, came new, close together or after a gap.
//! * [`catalogue`]: the exercises that come with the product.
//! * [`caution`]: what to say before intense work.
//!
//! Units are SI (seconds, metres, metres a second, joules a kilogram) inside
//! this module, and the unit is in the name where a value leaves it.

pub mod approach;
pub mod ballistics;
pub mod catalogue;
pub mod caution;
pub mod constants;
pub mod contact;
pub mod course;
pub mod force;
pub mod guard;
pub mod likeness;
pub mod performed;
pub mod rest;
pub mod rule;
pub mod series;
pub mod session;
pub mod spike;
pub mod spring;
pub mod unfold;
