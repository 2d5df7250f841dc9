package rehearse
