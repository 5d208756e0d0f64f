//! A tree of boxes about the pieces of a surface, so that far pieces are passed over unseen.

use super::bounds::Bounds;
use crate::math::Vec3;

/// Pieces in one leaf: below this a split costs more than it saves.
const LEAF: usize = 4;

/// What is looked for among the pieces.
pub(super) trait Quest {
    /// How promising a box is, least first: never more than the measure of any piece inside.
    fn key(&self, bounds: &Bounds) -> f64;
    /// Boxes whose key is not below this are passed over.
    fn limit(&self) -> f64;
    /// Looks at one piece.
    fn visit(&mut self, piece: usize);
}

/// The tree: nodes in depth-first order, so that a left child follows its parent.
#[derive(Debug, Clone)]
pub(super) struct Tree {
    nodes: Vec<Node>,
    pieces: Vec<u32>,
}

#[derive(Debug, Clone)]
struct Node {
    bounds: Bounds,
    kind: Kind,
}

#[derive(Debug, Clone, Copy)]
enum Kind {
    Fork { right: u32 },
    Leaf { first: u32, end: u32 },
}

impl Tree {
    /// The tree over pieces given by their boxes.
    pub(super) fn over(boxes: &[Bounds]) -> Self {
        let count = u32::try_from(boxes.len()).unwrap_or(u32::MAX);
        let mut pieces: Vec<u32> = (0..count).collect();
        let mut nodes = Vec::with_capacity(boxes.len());
        if !pieces.is_empty() {
            grow(&mut nodes, boxes, &mut pieces, 0);
        }
        Self { nodes, pieces }
    }

    /// The box about all.
    pub(super) fn bounds(&self) -> Bounds {
        self.nodes.first().map_or_else(Bounds::nothing, |root| root.bounds)
    }

    /// Leads the quest to every piece whose boxes it does not pass over, promising ones first.
    pub(super) fn search(&self, quest: &mut impl Quest) {
        if let Some(root) = self.nodes.first()
            && quest.key(&root.bounds) < quest.limit()
        {
            self.descend(0, quest);
        }
    }

    /// Metres from `c` to the nearest of the smallest boxes; 0 inside one.
    pub(super) fn distance(&self, c: &Vec3) -> f64 {
        let square = |bounds: &Bounds| (bounds.nearest(c) - c).norm_squared();
        let (mut open, mut least) = (vec![0], f64::INFINITY);
        while let Some(at) = open.pop() {
            let Some(node) = self.nodes.get(at) else { continue };
            let far = square(&node.bounds);
            match node.kind {
                _ if far >= least => {}
                Kind::Leaf { .. } => least = far,
                Kind::Fork { right } => open.extend([right as usize, at + 1]),
            }
        }
        least.sqrt()
    }

    fn descend(&self, at: usize, quest: &mut impl Quest) {
        match self.nodes[at].kind {
            Kind::Leaf { first, end } => {
                for piece in &self.pieces[first as usize..end as usize] {
                    quest.visit(*piece as usize);
                }
            }
            Kind::Fork { right } => {
                let (left, right) = (at + 1, right as usize);
                let keys = [left, right].map(|i| quest.key(&self.nodes[i].bounds));
                let order = if keys[1] < keys[0] { [1, 0] } else { [0, 1] };
                for side in order {
                    if keys[side] < quest.limit() {
                        self.descend([left, right][side], quest);
                    }
                }
            }
        }
    }
}

/// Adds the node over `pieces`, which start at `offset` of all, and the nodes below it.
fn grow(nodes: &mut Vec<Node>, boxes: &[Bounds], pieces: &mut [u32], offset: usize) {
    let around = |pieces: &[u32]| {
        pieces.iter().fold(Bounds::nothing(), |all, i| all.with(&boxes[*i as usize]))
    };
    let bounds = around(pieces);
    let at = nodes.len();
    let (first, end) = (index(offset), index(offset + pieces.len()));
    nodes.push(Node { bounds, kind: Kind::Leaf { first, end } });
    if pieces.len() <= LEAF {
        return;
    }
    let axis = bounds.longest_axis();
    let middle = pieces.len() / 2;
    let place = |i: &u32| boxes[*i as usize].middle()[axis];
    pieces.select_nth_unstable_by(middle, |a, b| place(a).total_cmp(&place(b)).then(a.cmp(b)));
    let (left, right) = pieces.split_at_mut(middle);
    grow(nodes, boxes, left, offset);
    nodes[at].kind = Kind::Fork { right: index(nodes.len()) };
    grow(nodes, boxes, right, offset + middle);
}

fn index(i: usize) -> u32 {
    u32::try_from(i).unwrap_or(u32::MAX)
}
