//! The least cost of a linear programme whose columns come one by one: the revised simplex method, dense, small.
//!
//! Dantzig, Orden, Wolfe, "The generalized simplex method for minimizing a linear form under linear inequality
//! restraints", Pacific Journal of Mathematics 5 (1955). Its figures are rounded, so nothing is proven by them alone:
//! what is proven is reckoned again from its prices in whole numbers (`fitting`).

/// Less than this is nothing.
const NOTHING: f64 = 1e-9;

/// A column: what one of it adds to each row, and what it costs.
#[derive(Debug, Clone)]
pub(super) struct Column {
    pub(super) entries: Vec<(usize, f64)>,
    pub(super) cost: f64,
    /// Stands for what is lacking: it leaves and never comes back.
    pub(super) lack: bool,
}

struct Row {
    inverse: Vec<f64>,
    value: f64,
    column: usize,
    cost: f64,
    lack: bool,
}

/// The programme, with what its rows stand on now.
pub(super) struct Simplex {
    rows: Vec<Row>,
    columns: Vec<Column>,
    /// Steps of work since they were last asked for.
    steps: usize,
}

impl Simplex {
    /// Each row stands on a column of its own at first, which adds one to it alone; what each row must reach.
    pub(super) fn new(wanted: &[f64], first: Vec<Column>) -> Self {
        let count = wanted.len();
        let row = |(at, (value, column)): (usize, (&f64, &Column))| {
            let inverse = (0..count).map(|other| if other == at { 1.0 } else { 0.0 }).collect();
            Row { inverse, value: *value, column: at, cost: column.cost, lack: column.lack }
        };
        let rows = wanted.iter().zip(&first).enumerate().map(row).collect();
        Self { rows, columns: first, steps: 0 }
    }

    pub(super) fn add(&mut self, column: Column) -> usize {
        self.columns.push(column);
        self.columns.len() - 1
    }

    /// Puts other costs in place, column by column.
    pub(super) fn cost(&mut self, cost: impl Fn(usize, &Column) -> f64) {
        for (at, column) in self.columns.iter_mut().enumerate() {
            column.cost = cost(at, column);
        }
        for row in &mut self.rows {
            row.cost = self.columns.get(row.column).map_or(0.0, |column| column.cost);
        }
    }

    /// What one more of each row would cost.
    pub(super) fn prices(&self) -> Vec<f64> {
        let mut prices = vec![0.0; self.rows.len()];
        for row in self.rows.iter().filter(|row| row.cost != 0.0) {
            for (price, part) in prices.iter_mut().zip(&row.inverse) {
                *price += row.cost * part;
            }
        }
        prices
    }

    /// How much is lacking.
    pub(super) fn lacking(&self) -> f64 {
        self.rows.iter().filter(|row| row.lack).map(|row| row.value.max(0.0)).sum()
    }

    /// The columns that stand for something, and how much.
    pub(super) fn values(&self) -> impl Iterator<Item = (usize, f64)> {
        self.rows.iter().filter(|row| row.value > NOTHING).map(|row| (row.column, row.value))
    }

    /// The steps of work since this was last asked.
    pub(super) fn steps(&mut self) -> usize {
        std::mem::take(&mut self.steps)
    }

    /// Brings in columns until none makes it cheaper, at most so many; whether none does.
    pub(super) fn settle(&mut self, most: usize) -> bool {
        for _ in 0..most {
            let prices = self.prices();
            let less = |column: &Column| {
                let worth: f64 =
                    column.entries.iter().map(|(row, entry)| prices.get(*row).map_or(0.0, |price| price * entry)).sum();
                column.cost - worth
            };
            let open = self.columns.iter().enumerate().filter(|(_, column)| !column.lack);
            let cheapest = open.map(|(at, column)| (at, less(column))).min_by(|one, two| one.1.total_cmp(&two.1));
            self.steps += self.rows.len() * self.rows.len() * 2 + self.columns.len() * 6;
            let Some((at, _)) = cheapest.filter(|(_, cost)| *cost < -NOTHING) else { return true };
            if !self.enter(at) {
                return true;
            }
        }
        false
    }

    /// Brings a column in; the row that limits it stands on it from then on.
    fn enter(&mut self, at: usize) -> bool {
        let Some(column) = self.columns.get(at) else { return false };
        let part = |row: &Row| {
            column.entries.iter().map(|(of, entry)| row.inverse.get(*of).map_or(0.0, |part| part * entry)).sum::<f64>()
        };
        let parts: Vec<f64> = self.rows.iter().map(part).collect();
        let mut leaving: Option<(usize, f64, f64)> = None;
        for (of, (row, part)) in self.rows.iter().zip(&parts).enumerate() {
            let out = row.lack && row.value < NOTHING && part.abs() > 1e-7;
            if *part <= NOTHING && !out {
                continue;
            }
            let ratio = if out { 0.0 } else { (row.value / part).max(0.0) };
            let sooner = leaving.is_none_or(|(_, best, pivot)| {
                ratio < best - NOTHING || (ratio < best + NOTHING && part.abs() > pivot)
            });
            if sooner {
                leaving = Some((of, ratio, part.abs()));
            }
        }
        let Some((of, ..)) = leaving else { return false };
        let (cost, lack) = (column.cost, column.lack);
        let Some((pivot, row)) = parts.get(of).copied().zip(self.rows.get_mut(of)) else { return false };
        row.inverse.iter_mut().for_each(|part| *part /= pivot);
        (row.value, row.column, row.cost, row.lack) = (row.value / pivot, at, cost, lack);
        let (inverse, value) = (std::mem::take(&mut row.inverse), row.value);
        for (other, (row, part)) in self.rows.iter_mut().zip(&parts).enumerate() {
            if other == of || part.abs() < 1e-13 {
                continue;
            }
            for (mine, its) in row.inverse.iter_mut().zip(&inverse) {
                *mine -= part * its;
            }
            row.value -= part * value;
            if row.value.abs() < 1e-11 {
                row.value = 0.0;
            }
        }
        if let Some(row) = self.rows.get_mut(of) {
            row.inverse = inverse;
        }
        true
    }
}
