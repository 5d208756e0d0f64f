/* Loamline in C: where mountain-bike riders land off a takeoff, and how hard.
 *
 * Numbers guide a first build and the next test. They certify nothing: start slow, wear protection, never test alone, and
 * let local codes, the land manager and a licensed engineer decide.
 *
 * SI units, radians; x and y level, z up; headings counter-clockwise from +x; a slope is positive downhill.
 *
 * Every function gives a status; LOAMLINE_STATUS_OK is 0. On any other nothing is written, and loamline_last_error() says in
 * words what was wrong. No panic crosses the border. Pointers have to be null or point to what their type says, for as many
 * as a count beside them says. What a function makes (LoamlineGround, LoamlineFlight, LoamlineSite) is the caller's until it
 * is given to the function of its name that ends in _free, once; it may be read from several threads at once.
 *
 * Written by a generator from the Rust source: do not edit. */

#ifndef LOAMLINE_H
#define LOAMLINE_H

#include <stddef.h>
#include <stdint.h>

// How a call went.
typedef enum LoamlineStatus {
  // It went well, and what was asked for is written.
  LOAMLINE_STATUS_OK = 0,
  // A pointer that has to point somewhere is null.
  LOAMLINE_STATUS_NULL_POINTER = 1,
  // A number or a text is not one that may stand there.
  LOAMLINE_STATUS_BAD_INPUT = 2,
  // Nothing comes of it: a ride that ends before the edge, a flight without a touch.
  LOAMLINE_STATUS_NO_RESULT = 3,
  // A file cannot be read.
  LOAMLINE_STATUS_FILE = 4,
  // A fault of the library itself.
  LOAMLINE_STATUS_FAULT = 5,
} LoamlineStatus;

// How a flight came out.
typedef enum LoamlineOutcome {
  // Touched ground without a landing on it.
  LOAMLINE_OUTCOME_LANDED = 0,
  // Touched the landing's face.
  LOAMLINE_OUTCOME_CAUGHT = 1,
  // Touched before the landing's crest.
  LOAMLINE_OUTCOME_SHORT = 2,
  // Touched past the landing's foot.
  LOAMLINE_OUTCOME_LONG = 3,
  // Touched beside the landing's face.
  LOAMLINE_OUTCOME_WIDE = 4,
  // Never cleared the ground at the launch.
  LOAMLINE_OUTCOME_ROLLED_OFF = 5,
  // Left the plan in which the ground is known.
  LOAMLINE_OUTCOME_OFF_SURVEY = 6,
  // Found no ground within 60 s.
  LOAMLINE_OUTCOME_NO_TOUCHDOWN = 7,
  // The launch has a number that is not finite, or no path could be computed.
  LOAMLINE_OUTCOME_BAD_LAUNCH = 8,
} LoamlineOutcome;

// A flight from its launch to the ground.
typedef struct LoamlineFlight LoamlineFlight;

// The ground that is flown onto.
typedef struct LoamlineGround LoamlineGround;

// A site: its ground, its takeoff, its riders, and what a landing on it may be.
typedef struct LoamlineSite LoamlineSite;

// The air and gravity at a site. Not-a-number stands for "not given".
typedef struct LoamlineAir {
  // Above the sea, m, from -5000 to 11000.
  double elevation;
  // Degrees Celsius, from -90 to 60; NaN takes the standard atmosphere's.
  double temperature_c;
  // kg/m^3; NaN follows elevation and temperature (ISO 2533).
  double density;
  // The air's velocity, m/s: where it blows to.
  double wind[3];
  // m/s^2.
  double gravity;
} LoamlineAir;

// Rider and bike together. Not-a-number stands for "not given".
typedef struct LoamlineRider {
  // Of rider and bike, kg.
  double mass;
  // Drag area, m^2.
  double cda;
  // Coefficient of rolling resistance.
  double crr;
  // Side force over load that tyre and surface carry; infinity never slides.
  double grip;
  // Height of the centre of mass above the tyres when riding, m.
  double com_height;
  // The same at touchdown, m; NaN keeps that when riding.
  double com_height_landing;
  // m.
  double wheelbase;
  // m.
  double wheel_radius;
} LoamlineRider;

// An earth landing: a straight face under a crest line.
typedef struct LoamlineLanding {
  // Middle of the crest line, x and y, m.
  double crest[2];
  // In which the face falls, radians.
  double heading;
  // Of the face below level, radians.
  double slope;
  // Level, from crest line to foot, m.
  double length;
  // Of the face, m.
  double width;
} LoamlineLanding;

// A launch by hand: place and velocity of the centre of mass.
typedef struct LoamlineLaunch {
  // m.
  double position[3];
  // m/s.
  double velocity[3];
} LoamlineLaunch;

// The moment of landing. Numbers are NaN where there was no touch.
typedef struct LoamlineTouchdown {
  // How the flight came out.
  enum LoamlineOutcome outcome;
  // From the launch to the end, s.
  double time;
  // The tyres' mark, where a flag would be planted, m.
  double mark[3];
  // Of the centre of mass, m/s.
  double velocity[3];
  // Unit vector from the touched place to the centre of mass.
  double normal[3];
  // Into the surface, m/s.
  double normal_speed;
  // Equivalent fall height, m: the plain drop onto level ground that comes down as hard.
  double fall_height;
  // Between path and surface, radians.
  double angle;
  // Level, from the launch to the mark, m.
  double distance;
  // How far the mark is below the launch, m.
  double drop;
} LoamlineTouchdown;

// The loads of a landing. Data on bikes are few, and the legs' stroke rules the result; injury is not predicted.
typedef struct LoamlineLoads {
  // Highest force on the body, N.
  double peak_force;
  // The same in weights of the body, without the bike.
  double peak_bodyweights;
  // When it is reached, s from the touch.
  double peak_time;
  // The force, in weights, that would have stopped the body over the same way had it been constant.
  double mean_bodyweights;
  // 1 where legs and arms use up their stroke, else 0.
  int32_t legs_bottomed;
  // 1 where the suspension uses up its travel, else 0.
  int32_t suspension_bottomed;
} LoamlineLoads;

#ifdef __cplusplus
extern "C" {
#endif // __cplusplus

// What was wrong with the last call of this thread that did not go well, in words; empty where none did not. It holds
// until the next such call of the same thread.
const char *loamline_last_error(void);

// The version of the library, as text.
const char *loamline_version(void);

// Writes the standard atmosphere at sea level without wind.
enum LoamlineStatus loamline_air_default(struct LoamlineAir *out);

// Writes the rider that a first look needs: 90 kg with the bike.
enum LoamlineStatus loamline_rider_default(struct LoamlineRider *out);

// Writes the rider on a trail bike that body mass, kg, and height, m, suggest.
enum LoamlineStatus loamline_rider_typical(double body_mass,
                                           double body_height,
                                           struct LoamlineRider *out);

// Makes a plane without end through a point (three numbers: x, y, z; m), falling at `slope` along `heading`, radians.
enum LoamlineStatus loamline_ground_plane(const double *point,
                                          double slope,
                                          double heading,
                                          struct LoamlineGround **out);

// Makes a ground of heights on a regular grid, bilinear between: `rows` rows along y of `columns` along x each, from
// `origin` (two numbers: x, y; m), `spacing` (two: along x, along y; m) apart.
enum LoamlineStatus loamline_ground_grid(const double *origin,
                                         const double *spacing,
                                         size_t columns,
                                         size_t rows,
                                         const double *heights,
                                         struct LoamlineGround **out);

// Makes a ground of `count` surveyed points (three numbers each: x, y, z; m), with flat triangles between neighbours.
enum LoamlineStatus loamline_ground_survey(const double *points,
                                           size_t count,
                                           struct LoamlineGround **out);

// Makes a ground with a landing built on it; the first stays as it is.
enum LoamlineStatus loamline_ground_with_landing(const struct LoamlineGround *ground,
                                                 const struct LoamlineLanding *landing,
                                                 struct LoamlineGround **out);

// Writes the height over a plan position, m; NaN where the ground is not known.
enum LoamlineStatus loamline_ground_height(const struct LoamlineGround *ground,
                                           double x,
                                           double y,
                                           double *out);

// Ends a ground; null is nothing.
void loamline_ground_free(struct LoamlineGround *ground);

// Makes the flight of a launch by hand onto a ground.
enum LoamlineStatus loamline_flight(const struct LoamlineLaunch *launch,
                                    const struct LoamlineGround *ground,
                                    const struct LoamlineRider *rider,
                                    const struct LoamlineAir *air,
                                    struct LoamlineFlight **out);

// Writes the centre of mass (three numbers, m) at a time since the launch, s; before the launch and after the end the nearer of both
// counts.
enum LoamlineStatus loamline_flight_position(const struct LoamlineFlight *flight,
                                             double time,
                                             double *out);

// Writes how the flight comes out, and the moment of landing.
enum LoamlineStatus loamline_flight_touchdown(const struct LoamlineFlight *flight,
                                              struct LoamlineTouchdown *out);

// Ends a flight; null is nothing.
void loamline_flight_free(struct LoamlineFlight *flight);

// Writes the touchdowns of `count` launches by hand, row by row, on all cores; the same numbers on any number of them. A
// launch that is none has the outcome `LOAMLINE_OUTCOME_BAD_LAUNCH` in its row, and the others are as ever.
enum LoamlineStatus loamline_flights(const struct LoamlineLaunch *launches,
                                     size_t count,
                                     const struct LoamlineGround *ground,
                                     const struct LoamlineRider *rider,
                                     const struct LoamlineAir *air,
                                     struct LoamlineTouchdown *out);

// Writes the loads of coming down on the bike from an equivalent fall height, m, onto a surface so far off level, radians;
// standard gravity, rigid ground, the usual suspension and legs.
enum LoamlineStatus loamline_loads(const struct LoamlineRider *rider,
                                   double fall_height,
                                   double slope,
                                   struct LoamlineLoads *out);

// Makes the demo site: an invented heath with a right-hand wall that steepens.
enum LoamlineStatus loamline_site_demo(struct LoamlineSite **out);

// Makes the site that a file (TOML; its path in UTF-8) tells, with the tables it names.
enum LoamlineStatus loamline_site_load(const char *path, struct LoamlineSite **out);

// Makes the site's ground as surveyed.
enum LoamlineStatus loamline_site_ground(const struct LoamlineSite *site,
                                         struct LoamlineGround **out);

// Makes the flight of the middle rider of a class, from rest at a start mark (level m up the hill from the run-in's end),
// over a place of the edge (m up a wall's panel, or to the left of the middle), with a pop, m/s, onto a ground. `lean` is
// "deck", "balanced" or "settled". A ride that ends before the edge is `LOAMLINE_STATUS_NO_RESULT`.
enum LoamlineStatus loamline_site_flight(const struct LoamlineSite *site,
                                         double start,
                                         double leave,
                                         const char *who,
                                         const char *lean,
                                         double pop,
                                         const struct LoamlineGround *ground,
                                         struct LoamlineFlight **out);

// Ends a site; null is nothing.
void loamline_site_free(struct LoamlineSite *site);

#ifdef __cplusplus
}  // extern "C"
#endif  // __cplusplus

#endif  /* LOAMLINE_H */
