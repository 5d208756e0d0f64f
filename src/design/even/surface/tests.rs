use super::*;
use crate::design::even::EvenDesign;
use crate::flight::FlightPath;
use crate::launch::Launch;
use crate::math::roots::bracketed;
use approx::assert_relative_eq;

const G: f64 = 9.80665;

/// A launch off an invented wall: the higher up it is left, the steeper, the farther along and the more to the left.
fn launch(share: f64, speed: f64) -> Launch {
    let heading = 0.9 + 0.35 * share + 0.06 * share * share;
    let angle = 0.15 + 0.2 * share;
    let position = Vec3::new(3.0 - 0.4 * share, 1.0 + 1.3 * share, 2.2 + 0.7 * share);
    let direction =
        Vec3::new(angle.cos() * heading.cos(), angle.cos() * heading.sin(), angle.sin());
    Launch::by_hand(position, direction * speed).unwrap()
}

fn design(count: usize) -> EvenSurfaceDesign {
    let line = |i: usize| EvenLine::of(&launch(i as f64 / (count - 1) as f64, 1.0)).unwrap();
    let lines = (0..count).map(line).collect();
    let design = EvenSurfaceDesign::new(lines, 1.05, 0.6, Vec2::new(8.0, -2.6), 3.0).unwrap();
    design.with_cross_slope(0.1).unwrap()
}

fn rider(height: f64) -> Rider {
    Rider::default().with_com_height_landing(Some(height)).unwrap()
}

fn windy() -> Air {
    Air::standard().with_wind(Vec3::new(-1.5, 1.0, 0.0)).unwrap()
}

/// A whole flight, from the flight's own code, in the landing's axes.
struct Flown<'a> {
    surface: &'a EvenSurface,
    path: FlightPath,
}

impl<'a> Flown<'a> {
    fn new(surface: &'a EvenSurface, launch: &Launch, rider: &Rider, air: &Air) -> Self {
        let forces = Forces::new(rider, air);
        let mut path = FlightPath::start(launch.position, launch.velocity, forces).unwrap();
        path.fly(4.0).unwrap();
        Self { surface, path }
    }

    fn place(&self, time: f64) -> Vec3 {
        let design = self.surface.design();
        design.turned(&(self.path.position(time) - design.lines()[0].position()))
    }

    /// The nearest point of the earth, by Newton's method along the gradient, and how far it is.
    fn gap(&self, time: f64) -> (Vec2, f64) {
        let (com, surface) = (self.place(time), self.surface);
        let (near, far) = surface.reach();
        let mut at = Vec2::new(com.x.clamp(near, far), com.y);
        for _ in 0..200 {
            let gradient = surface.gradient(at.x, at.y).unwrap();
            let above = com.z - surface.height(at.x, at.y).unwrap();
            let next = com.xy() + gradient * above;
            let next = Vec2::new(next.x.clamp(near, far), next.y);
            let step = next - at;
            at += 0.8 * step;
            if step.norm() < 1e-13 {
                break;
            }
        }
        (at, (com - Vec3::new(at.x, at.y, surface.height(at.x, at.y).unwrap())).norm())
    }

    /// The fall height at which the ball about the centre of mass first touches the earth.
    fn fall_height(&self, height: f64, about: f64) -> f64 {
        let over = |time: f64| {
            let (at, gap) = self.gap(time);
            let above = self.place(time).z - self.surface.height(at.x, at.y).unwrap();
            gap.copysign(above) - height
        };
        let time = bracketed(over, about - 0.04, about + 0.04, 1e-12).unwrap();
        let (at, _) = self.gap(time);
        let gradient = self.surface.gradient(at.x, at.y).unwrap();
        let normal = Vec3::new(-gradient.x, -gradient.y, 1.0).normalize();
        let velocity = self.surface.design().turned(&self.path.velocity(time));
        velocity.dot(&normal).powi(2) / (2.0 * G)
    }
}

/// How far so many flights are off the wanted fall height at most: of the lines where `off_lines` is 0, else between them.
fn worst(surface: &EvenSurface, rider: &Rider, air: &Air, (count, off_lines): (usize, f64)) -> f64 {
    let (lines, height) = (surface.design().lines().len(), rider.com_height_landing());
    let each = count / lines;
    let stations = &surface.stations;
    let off = |i: usize| {
        let (line, j) = (i % lines, i / lines);
        let share = (line as f64 + off_lines) / (lines - 1) as f64;
        if share > 1.0 {
            return None;
        }
        // Between two stations, where only a cubic leads from one to the other.
        let at = j * (stations.len() - 2) / (each - 1);
        let [a, b] = [&stations[at].nodes, &stations[at + 1].nodes];
        let of = |line: usize| {
            let line = line.min(lines - 1);
            [0.5 * (a[line].speed + b[line].speed), 0.5 * (a[line].time + b[line].time)]
        };
        let between = |k: usize| of(line)[k] + off_lines * (of(line + 1)[k] - of(line)[k]);
        let (speed, time) = (between(0), between(1));
        let flown = Flown::new(surface, &launch(share, speed), rider, air);
        // Lines reach their ends at different places: one may lie past where all do.
        let (near, far) = surface.reach();
        let inside = (near + 0.2..far - 0.2).contains(&flown.gap(time).0.x);
        inside.then(|| flown.fall_height(height, time) - surface.design().fall_height())
    };
    let all: Vec<f64> = (0..each * lines).filter_map(off).map(f64::abs).collect();
    assert!(2 * all.len() > count, "{}", all.len());
    all.into_iter().fold(0.0, f64::max)
}

#[test]
fn two_hundred_flights_of_the_lines_land_with_the_wanted_fall_height() {
    for height in [0.0, 0.9] {
        let rider = rider(height);
        let surface = design(4).surface(&rider, &windy()).unwrap();
        assert_eq!(surface.stopped_by(), StoppedBy::NearEnd, "{:?}", surface.reach());
        let worst = worst(&surface, &rider, &windy(), (240, 0.0));
        assert!(worst < 1e-6, "{height}: {worst:.1e}");
    }
}

#[test]
fn flights_between_the_lines_land_nearly_as_evenly() {
    let rider = rider(0.9);
    let worst = [3, 5].map(|count| {
        let surface = design(count).surface(&rider, &windy()).unwrap();
        worst(&surface, &rider, &windy(), (60, 0.5))
    });
    assert!(worst[0] < 3e-3 && worst[1] < 1e-4, "{worst:?}");
}

/// Lines side by side, each as much higher as the cross slope asks for, make the cylinder of the one-line landing.
#[test]
fn parallel_lines_make_the_landing_of_one_line() {
    let (heading, sideways, cross) = (0.4, -0.3, 0.15);
    let (sin, cos) = (heading + sideways).sin_cos();
    let direction = Vec3::new(0.9 * cos, 0.9 * sin, 0.19f64.sqrt());
    let left = Vec3::new(-f64::sin(heading), f64::cos(heading), f64::tan(cross));
    let line = |i: i32| {
        let place = Vec3::new(5.0, 1.0, 2.0) + left * (0.5 * f64::from(i));
        EvenLine::of(&Launch::by_hand(place, direction).unwrap()).unwrap()
    };
    let (far, near) = (Vec2::new(8.0, -2.0), 2.5);
    let surface = EvenSurfaceDesign::new((0..3).map(line).collect(), heading, 0.5, far, near);
    let surface = surface.unwrap().with_cross_slope(cross).unwrap();
    let air = Air::standard();
    let surface = surface.surface(&rider(0.8), &air).unwrap();
    let angle = f64::asin(0.19f64.sqrt());
    let one = EvenDesign::new(angle, 0.5, far, near).unwrap().with_sideways(sideways).unwrap();
    let one = one.with_cross_slope(cross).unwrap().landing(&rider(0.8), &air).unwrap();
    for x in [2.5, 4.0, 6.1, 8.0] {
        for y in [-3.0, -2.0, 0.0] {
            let expected = one.height(x).unwrap() + y * cross.tan();
            assert_relative_eq!(surface.height(x, y).unwrap(), expected, epsilon = 1e-7);
        }
        let gradient = surface.gradient(x, -1.0).unwrap();
        assert_relative_eq!(gradient.x, -one.slope(x).unwrap().tan(), epsilon = 1e-6);
        assert_relative_eq!(gradient.y, cross.tan(), epsilon = 1e-7);
    }
}

#[test]
fn its_points_make_ground_that_riders_land_on() {
    let surface = design(3).surface(&rider(0.9), &windy()).unwrap();
    let points = surface.points(0.1, 1.0).unwrap();
    let hill = Ground::plane(Vec3::new(0.0, 0.0, -6.0), 0.0, 0.0).unwrap();
    let ground = hill.higher(&surface.ground(0.1, 1.0).unwrap());
    let point = points[points.len() / 2];
    assert_relative_eq!(ground.height(point.x, point.y).unwrap(), point.z, epsilon = 1e-9);
    let (slow, fast) = surface.launch_speeds()[1];
    for share in [0.3, 0.5, 0.7] {
        let launch = launch(0.5, slow + share * (fast - slow));
        let touchdown = launch.flight(&ground, &rider(0.9), &windy()).unwrap().touchdown();
        // Facets 0.1 m long on a curve: some millimetres of fall height.
        let fall_height = touchdown.contact.unwrap().fall_height;
        assert!((fall_height - 0.6).abs() < 0.02, "{fall_height}");
    }
    assert!(surface.points(1e-4, 1.0).unwrap_err().to_string().starts_with("spacing = "));
    assert!(surface.points(0.1, f64::NAN).is_err());
}

#[test]
fn what_cannot_be_says_why() {
    let line = |share| EvenLine::of(&launch(share, 3.0)).unwrap();
    let new = |lines, heading, far: (f64, f64), near| {
        EvenSurfaceDesign::new(lines, heading, 0.6, Vec2::new(far.0, far.1), near)
    };
    let told = |made: Result<EvenSurfaceDesign, EvenError>| made.unwrap_err().to_string();
    let two = || vec![line(0.0), line(1.0)];
    assert!(told(new(vec![line(0.0)], 1.0, (8.0, -2.6), 3.0)).starts_with("lines = 1 "));
    assert!(told(new(two(), f64::NAN, (8.0, -2.6), 3.0)).starts_with("heading = "));
    assert!(told(new(two(), 1.0, (f64::INFINITY, -2.6), 3.0)).starts_with("far.x = "));
    assert!(told(new(two(), 1.0, (8.0, -2.6), 8.0)).starts_with("near = "));
    assert!(told(new(two(), 2.7, (8.0, -2.6), 3.0)).starts_with("line 1 heads a right angle"));
    let still = Launch::by_hand(Vec3::zeros(), Vec3::zeros());
    assert!(still.is_err() || EvenLine::of(&still.unwrap()).is_err());
    let built = |far, lines| new(lines, 1.0, far, 3.0).unwrap().surface(&rider(0.9), &windy());
    let high = built((8.0, 4.0), two());
    assert!(matches!(high, Err(EvenError::FarEnd { reason: StoppedBy::NoFlight, .. })), "{high:?}");
    let twice = built((8.0, -2.6), vec![line(0.0), line(0.0)]);
    let Err(EvenError::FarEnd { reason, .. }) = twice else { panic!("one line twice") };
    assert_eq!(reason, StoppedBy::FlightsCross);
}

#[test]
fn it_reads_back_and_explains() {
    let surface = design(2).surface(&rider(0.9), &windy()).unwrap();
    let text = serde_json::to_string(&surface).unwrap();
    assert_eq!(serde_json::from_str::<EvenSurface>(&text).unwrap(), surface);
    let said = surface.explain().to_string();
    assert!(said.contains("lines = 2") && said.contains("certify nothing"));
    assert!(surface.height(2.0, 0.0).is_err() && surface.gradient(4.0, f64::NAN).is_err());
    let (right, left) = surface.width(5.0).unwrap();
    assert!(right < left);
    let early = EvenSurfaceDesign::new(
        surface.design().lines().into(),
        1.05,
        2.0,
        Vec2::new(8.0, -2.6),
        0.0,
    );
    let early = early.unwrap().with_steepest(1.4).unwrap().surface(&rider(0.0), &windy()).unwrap();
    assert!(early.stopped_by() != StoppedBy::NearEnd && early.reach().0 > 0.0);
    assert!(matches!(
        early.warnings()[..],
        [EvenWarning::HighFall { .. }, .., EvenWarning::EndsEarly { .. }]
    ));
}
